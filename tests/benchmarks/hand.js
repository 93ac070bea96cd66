// A child and a helper on the page of a run, by script: `child.py` says how long they take. Inside the
// page, so that no driver's slowness is taken for a family's. Seconds; ranges are [least, most].

async (how) => {
  const rounds = document.querySelector("practice-rounds");
  const data = JSON.parse(document.getElementById("practice-data").textContent);
  const pause = (seconds) => new Promise((resolve) => setTimeout(resolve, seconds * 1000));
  let state = how.seed;
  const random = () => { // mulberry32, by T. Ettinger, public domain
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  const between = ([least, most]) => least + (most - least) * random();
  const key = (name) => rounds.querySelector(`[data-key="${name}"]`);
  const free = (name) => key(name) && key(name).getAttribute("aria-disabled") !== "true";
  const until = async (what) => {
    for (const give = performance.now() + 20_000; !what(); await pause(0.02)) {
      if (performance.now() > give) throw new Error(`${what} in: ${rounds.innerText}`);
    }
  };
  const taps = {};
  const tap = (name) => {
    taps[name] = (taps[name] ?? 0) + 1;
    key(name).click();
  };
  const drawn = () => {
    let left = random() * 100;
    return Object.entries(how.marks).find(([, share]) => (left -= share) < 0)[0];
  };

  /** What is to be seen of an item: its print, or what its picture shows. */
  const words = new Map();
  for (const { level, items } of [...data.easier, ...data.steps]) {
    for (const { text, picture, natural, long } of items) {
      const hold = long ? long.end - long.start : 0;
      const word = { level, hold, length: natural ? natural.duration : long ? long.duration - hold : 0 };
      words.set(text, word);
      if (picture && !words.has(picture.alt.toLowerCase())) words.set(picture.alt.toLowerCase(), word);
    }
  }
  const shown = () => words.get(rounds.querySelector(".item-text")?.textContent ?? rounds.querySelector(".drawing").alt.toLowerCase());

  /** Until a mark can be given; whether a held sound was heard meanwhile. */
  const awake = async () => {
    let held = false;
    await until(() => ((held ||= rounds.querySelector(".item-text .held") !== null), free("clear")));
    return held;
  };
  const marked = async () => {
    tap(drawn());
    await until(() => !rounds.querySelector(".marks [aria-pressed=true]") || key("retry"));
  };
  const tried = async () => {
    const word = shown();
    const whole = between(how.word) + how.level[word.level];
    const before = how.before * whole;
    const said = Math.max(how.least, whole - before - word.length);
    const model = key("decline") !== null;
    if (!model || !how.paced) await pause(before);
    if (model && !how.paced) tap(key("hear") ? "hear" : "said");
    const held = await awake();
    await pause(said + (held ? word.hold : 0));
    await marked();
    if (!key("retry")) return;
    await pause(how.more);
    if (random() >= how.again) return tap("go-on");
    tap("retry");
    await awake();
    await pause(said);
    await marked();
  };

  const begun = performance.now();
  while (!rounds.querySelector(".summary")) {
    const kind = rounds.querySelector(".interlude")?.className.split(" ").at(-1);
    if (kind) {
      await pause(between(how.read[kind]));
      tap(kind === "easier" ? "too-hard" : "go-on");
    } else {
      await until(() => rounds.querySelector(".task"));
      await tried();
    }
  }
  const sittings = Object.entries(localStorage).filter(([name]) => name.includes(":sitting:"));
  return { seconds: (performance.now() - begun) / 1000, taps, record: JSON.parse(sittings[0][1]) };
}
