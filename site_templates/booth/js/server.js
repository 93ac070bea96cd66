// The door to the server that gave out this page.

/** @import { Prompts, Verdict } from "../types" */

const HEADER = "X-Booth-Session";
const KEPT = "session";
const AWAY = "The recording page was ended at the terminal. Start it again and open the new address; what was kept is there.";

/** Why nothing came back, as a sentence. */
export class Problem extends Error {}

/**
 * @param {{ fetch: typeof fetch, storage: Pick<Storage, "getItem" | "setItem"> }} doors
 */
export function makeServer({ fetch, storage }) {
  /** @param {string} path @param {RequestInit} [how] */
  async function ask(path, how = {}) {
    let answer;
    try {
      answer = await fetch(path, { ...how, headers: { ...how.headers, [HEADER]: storage.getItem(KEPT) ?? "" } });
    } catch {
      throw new Problem(AWAY);
    }
    if (answer.ok) return answer;
    const { problem } = await answer.json().catch(() => ({ problem: "" }));
    throw new Problem(problem || `The recording page does not answer as it should (${answer.status}).`);
  }
  /** @param {string} path @param {ArrayBuffer} body */
  const post = async (path, body) =>
    (await ask(path, { method: "POST", headers: { "Content-Type": "audio/wav" }, body })).json();

  return {
    /** Exchange the key of the address for the secret of this window. @param {string} key */
    async enter(key) {
      const how = { method: "POST", headers: { "Content-Type": "text/plain" }, body: key };
      storage.setItem(KEPT, (await (await ask("/enter", how)).json()).session);
    },
    /** @returns {Promise<Prompts>} */
    prompts: async () => (await ask("/prompts")).json(),
    /** @param {string} id @param {ArrayBuffer} wav @returns {Promise<Verdict>} */
    judge: (id, wav) => post(`/judge/${id}`, wav),
    /** @param {string} id @param {ArrayBuffer} wav @param {boolean} instead @returns {Promise<Prompts>} */
    keep: (id, wav, instead) => post(`/${instead ? "replace" : "keep"}/${id}`, wav),
    /** The recording that is used. @param {string} id */
    take: async (id) => (await ask(`/takes/${id}`)).arrayBuffer(),
  };
}
