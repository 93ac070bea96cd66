import assert from "node:assert/strict";
import { test } from "node:test";

import { clipOf, testClip } from "../../site_templates/theme/assets/js/tasks.js";

const clip = (src) => ({ src });
const both = { natural: clip("n"), long: clip("l") };
const LONG = { form: "long" };
const NATURAL = { form: "natural" };

test("a round plays the clip of its own form", () => {
  assert.equal(clipOf(both, LONG).src, "l");
  assert.equal(clipOf(both, NATURAL).src, "n");
});

test("a natural clip is no model for a long round: the helper says it", () => {
  assert.equal(clipOf({ natural: clip("n"), long: null }, LONG), null);
});

test("the sound is tried out with the last clip there is", () => {
  const silent = { natural: null, long: null };
  assert.equal(testClip({ steps: [{ items: [both] }, { items: [{ ...both, natural: clip("m") }, silent] }] }).src, "m");
  assert.equal(testClip({ steps: [{ items: [{ natural: null, long: clip("l") }, silent] }] }).src, "l");
  assert.equal(testClip({ steps: [{ items: [silent] }] }), null);
});
