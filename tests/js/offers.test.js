import assert from "node:assert/strict";
import { test } from "node:test";

import { offerNow, refusing } from "../../site_templates/theme/assets/js/offers.js";

const TODAY = "2026-12-04";
const able = { prompt: true, byHand: false, standalone: false, persisted: false };
const offered = ({ sittings = 3, end = "done", settings = {}, means = {} } = {}) =>
  offerNow(sittings, end, TODAY, settings, { ...able, ...means });

test("nothing before the third sitting, nothing after a hard one, one a day", () => {
  assert.deepEqual([0, 1, 2, 3, 40].map((sittings) => offered({ sittings })), ["", "", "", "install", "install"]);
  assert.deepEqual(["done", "time", "enough", "hard"].map((end) => offered({ end })), ["install", "install", "install", ""]);
  assert.equal(offered({ settings: { offered: TODAY } }), "");
  assert.equal(offered({ settings: { offered: "2026-12-03" } }), "install");
});

test("what is there already, or cannot be, is not offered", () => {
  assert.equal(offered({ means: { standalone: true } }), "keep");
  assert.equal(offered({ means: { prompt: false } }), "keep");
  assert.equal(offered({ means: { prompt: false, byHand: true } }), "install");
  assert.equal(offered({ means: { standalone: true, persisted: true } }), "");
  assert.equal(offered({ means: { standalone: true, persisted: null } }), "");
});

test("what is refused for good is never offered again, the other one is", () => {
  const once = refusing({}, "install");
  assert.equal(offered({ settings: once }), "keep");
  const both = refusing(once, "keep");
  assert.deepEqual(both, { refused: ["install", "keep"] });
  assert.deepEqual(refusing(both, "keep"), both);
  assert.equal(offered({ settings: both }), "");
  assert.equal(offered({ settings: { refused: "nonsense" } }), "install");
});
