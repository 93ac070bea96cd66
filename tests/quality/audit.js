// Lighthouse over pages, one after the other, in one Chromium: node audit.js CHROMIUM ADDRESS...
// A telephone on slow 4G, which Lighthouse works out from what it sees (its default: 150 ms, 1.6 Mbit/s,
// a processor a quarter as fast). A line of JSON for each page.

import { launch } from "chrome-launcher";
import lighthouse from "lighthouse";

const [chromePath, ...addresses] = process.argv.slice(2);
const chromeFlags = ["--headless=new", "--no-sandbox", "--mute-audio", "--disable-gpu"];
const chrome = await launch({ chromePath, chromeFlags });
try {
  for (const address of addresses) {
    const skipAudits = ["is-crawlable"]; // pages ask robots to stay away, on purpose
    const result = await lighthouse(address, { port: chrome.port, output: "json", logLevel: "silent", skipAudits });
    const { categories, audits } = result.lhr;
    const scores = Object.values(categories).map(({ title, score }) => [title, Math.round(100 * (score ?? 0))]);
    const weighed = Object.values(categories).flatMap(({ auditRefs }) => auditRefs.filter(({ weight }) => weight > 0));
    const short = weighed.map(({ id }) => audits[id]).filter(({ score }) => score !== null && score < 0.9);
    const lost = short.map(({ title, displayValue }) => [title, displayValue].filter(Boolean).join(" "));
    console.log(JSON.stringify({ address, scores: Object.fromEntries(scores), lost: [...new Set(lost)] }));
  }
} finally {
  await chrome.kill();
}
