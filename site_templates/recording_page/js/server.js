// Requests to the server that gave out this page.

/** @import { Assessment, Prompts } from "../types" */

const HEADER = "X-Recording-Session";
const STORAGE_KEY = "session";
const SERVER_ENDED = "The recording page was closed at the terminal. Start it again and open the new address; what you kept is saved.";

/** Why nothing came back, as a sentence. */
export class Problem extends Error {}

/**
 * @param {{ fetch: typeof fetch, storage: Pick<Storage, "getItem" | "setItem"> }} apis
 */
export function makeServer({ fetch, storage }) {
  /** @param {string} path @param {RequestInit} [options] */
  async function request(path, options = {}) {
    let answer;
    try {
      answer = await fetch(path, { ...options, headers: { ...options.headers, [HEADER]: storage.getItem(STORAGE_KEY) ?? "" } });
    } catch {
      throw new Problem(SERVER_ENDED);
    }
    if (answer.ok) return answer;
    const { problem } = await answer.json().catch(() => ({ problem: "" }));
    throw new Problem(problem || `Unexpected answer from the recording page (${answer.status}).`);
  }
  /** @param {string} path @param {ArrayBuffer} body */
  const post = async (path, body) =>
    (await request(path, { method: "POST", headers: { "Content-Type": "audio/wav" }, body })).json();

  return {
    /** Exchange the key of the address for the secret of this window. @param {string} key */
    async enter(key) {
      const options = { method: "POST", headers: { "Content-Type": "text/plain" }, body: key };
      storage.setItem(STORAGE_KEY, (await (await request("/enter", options)).json()).session);
    },
    /** @returns {Promise<Prompts>} */
    prompts: async () => (await request("/prompts")).json(),
    /** @param {string} id @param {ArrayBuffer} wav @returns {Promise<Assessment>} */
    assess: (id, wav) => post(`/assess/${id}`, wav),
    /** @param {string} id @param {ArrayBuffer} wav @param {boolean} instead @returns {Promise<Prompts>} */
    keep: (id, wav, instead) => post(`/${instead ? "replace" : "keep"}/${id}`, wav),
    /** The recording that is used. @param {string} id */
    take: async (id) => (await request(`/takes/${id}`)).arrayBuffer(),
  };
}
