// For the tests of the reader: sittings come in as JSON, a line a case; what a page would hand over goes out.
import { createInterface } from "node:readline";

import { codeTexts, lines, parts } from "../../site_templates/theme/assets/js/envelope.js";
import { pack } from "../../site_templates/theme/assets/js/pack.js";
import { squeeze } from "../../site_templates/theme/assets/js/squeeze.js";

for await (const line of createInterface({ input: process.stdin })) {
  const packed = pack(JSON.parse(line));
  const message = await squeeze(packed);
  const [plain] = parts(Uint8Array.of(0, ...packed.bytes));
  const made = { lines: lines(message), codes: codeTexts(message), plain, left: packed.left };
  process.stdout.write(`${JSON.stringify(made)}\n`);
}
