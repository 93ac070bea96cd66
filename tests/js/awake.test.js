import assert from "node:assert/strict";
import { test } from "node:test";

import { makeScreenLock } from "../../site_templates/theme/assets/js/awake.js";

function fake({ refuses = false } = {}) {
  const log = [];
  const heard = {};
  const page = { visibilityState: "visible", addEventListener: (name, act) => { heard[name] = act; } };
  const request = async () => {
    log.push("asked");
    if (refuses) throw new Error("low battery");
    let ended = () => {};
    const lock = { addEventListener: (_, act) => { ended = act; }, release: async () => { log.push("released"); ended(); } };
    page.hide = () => { page.visibilityState = "hidden"; ended(); };
    return lock;
  };
  page.show = () => { page.visibilityState = "visible"; heard.visibilitychange(); };
  return { log, page, lock: makeScreenLock({ wakeLock: { request } }, page) };
}

test("the screen is held while it is wanted, and let go after", async () => {
  const { log, lock } = fake();
  await lock.hold();
  await lock.hold();
  await lock.release();
  assert.deepEqual(log, ["asked", "released"]);
});

test("a hidden page loses it and asks again when it is seen", async () => {
  const { log, page, lock } = fake();
  await lock.hold();
  page.hide();
  page.show();
  await Promise.resolve();
  assert.deepEqual(log, ["asked", "asked"]);
  await lock.release();
  page.show();
  assert.deepEqual(log, ["asked", "asked", "released"]);
});

test("where it is refused or unknown nothing happens", async () => {
  const { log, lock } = fake({ refuses: true });
  await lock.hold();
  await lock.release();
  assert.deepEqual(log, ["asked"]);
  await makeScreenLock({}, { visibilityState: "visible", addEventListener() {} }).hold();
});
