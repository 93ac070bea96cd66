// Requests to the server that gave out this page.

/** @import { Assessment, Failure, Prompts } from "../types" */

const HEADER = "X-Recording-Session";
const STORAGE_KEY = "session";
const TIMEOUT_MS = 60_000; // to check a recording takes seconds
const STOPPED = "The recording page does not answer: it was stopped, or its terminal was closed. Start `practice-site record` again.";
/** @param {string} folder */
const elsewhere = (folder) => `Another recording page answers at this address; it saves in ${folder}. Stop it and start the one for this folder again.`;

/** Why nothing came back, as a sentence. */
export class Problem extends Error {
  /** @param {string} sentence @param {Failure} why */
  constructor(sentence, why) {
    super(sentence);
    this.why = why;
  }
}

/** What a status says: the window is not known; the recording cannot be used. @type {Record<number, Failure>} */
const FAILURES = { 401: "away", 422: "refused" };

/**
 * @param {{ fetch: typeof fetch, storage: Pick<Storage, "getItem" | "setItem"> }} apis
 */
export function makeServer({ fetch, storage }) {
  const stored = () => storage.getItem(STORAGE_KEY) ?? "";
  let secret = stored();

  /** @template T @param {string} path @param {RequestInit} options @param {(answer: Response) => Promise<T>} read @param {string} session @returns {Promise<T>} */
  async function request(path, options, read, session) {
    let answer;
    try {
      const headers = { ...options.headers, [HEADER]: session };
      answer = await fetch(path, { ...options, headers, signal: AbortSignal.timeout(TIMEOUT_MS) });
      if (answer.ok) return await read(answer);
    } catch {
      throw new Problem(STOPPED, "away");
    }
    const { problem } = await answer.json().catch(() => ({ problem: "" }));
    throw new Problem(problem || `Unexpected answer from the recording page (${answer.status}).`, FAILURES[answer.status] ?? "other");
  }
  /** @param {Response} answer */
  const json = (answer) => answer.json();
  /** @param {string} path @param {BodyInit} body @param {string} media */
  const post = (path, body, media) => request(path, { method: "POST", headers: { "Content-Type": media }, body }, json, secret);

  return {
    /** Exchange the key of the address for the secret of the windows. @param {string} key */
    async enter(key) {
      secret = (await post("/enter", key, "text/plain")).session;
      storage.setItem(STORAGE_KEY, secret);
    },
    /**
     * With the secret that the newest window got; it is this window's, too, where the folder is the same.
     * @param {string} [folder]  "" for any @returns {Promise<Prompts>}
     */
    async prompts(folder = "") {
      const newest = stored();
      const found = await request("/prompts", {}, json, newest);
      if (folder && found.folder !== folder) throw new Problem(elsewhere(found.folder), "away");
      secret = newest;
      return found;
    },
    /** @param {string} id @param {ArrayBuffer} wav @returns {Promise<Assessment>} */
    assess: (id, wav) => post(`/assess/${id}`, wav, "audio/wav"),
    /** @param {string} id @param {ArrayBuffer} wav @param {boolean} instead @returns {Promise<Prompts>} */
    keep: (id, wav, instead) => post(`/${instead ? "replace" : "keep"}/${id}`, wav, "audio/wav"),
    /** The doubtful recording was heard and is right. @param {string} id @param {string} digest  of what was heard @returns {Promise<Prompts>} */
    accept: (id, digest) => post(`/accept/${id}`, digest, "text/plain"),
    /** The recording that is used. @param {string} id */
    take: (id) => request(`/takes/${id}`, {}, (answer) => answer.arrayBuffer(), secret),
  };
}
