// Puts the screen of one text or talk of today's page onto a page without rounds, at `at` of its steps.
async (at) => {
  const found = (path) => import(new URL(`../assets/js/${path}`, location.href).href);
  const styled = new Promise((done) => {
    const link = Object.assign(document.createElement("link"), { rel: "stylesheet", href: "../assets/rounds.css", onload: done });
    document.head.append(link);
  });
  const today = new DOMParser().parseFromString(await (await fetch("../")).text(), "text/html");
  const page = JSON.parse(today.getElementById("practice-data").textContent);
  const [{ startPassage, advancePassage, tallies }, { passageScreen, keepScroll }, { el, heading, wordsOf }] =
    await Promise.all(["passages.js", "passage-screen.js", "dom.js"].map(found));
  await styled;
  const [say, step, around] = [wordsOf(page.wording), page.steps[at], el("div")];
  document.querySelector("practice-rounds")?.remove();
  document.querySelector(".content").prepend(el("practice-rounds", {}, around));
  document.documentElement.classList.add("practising");
  let state = startPassage(step, 0);
  const draw = () => {
    const [restore, key] = [keepScroll(around), document.activeElement?.dataset.key];
    const top = el("div", { class: "top" }, heading("1", "position"));
    const progress = el("progress", { class: "steps", max: 3, value: at, "aria-hidden": "true" });
    around.replaceChildren(passageScreen({ state, step, language: page.language, final: true, top, progress, say, tell }));
    restore();
    if (key) around.querySelector(`[data-key="${key}"]`)?.focus({ preventScroll: true });
    window.told = tallies(state);
  };
  const tell = (event) => { state = advancePassage(state, event, state.ms + 1000); draw(); };
  draw();
};
