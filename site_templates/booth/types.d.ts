// Shapes that the recording page's modules share. Card, Verdict: the mirrors of builder/booth/
// cards.py and verdict.py; a test compares the keys. Never served.

export type Word = "good" | "doubtful" | "again";
export type Reasons = [sentence: string, figure: string][];

export interface Card {
  id: string;
  text: string;
  letters: [string, boolean][];
  form: "natural" | "long";
  level: "isolation" | "syllable" | "word" | "phrase" | "sentence";
  said: string;
  sound: string;
  holds: boolean;
  alone: boolean;
  clients: string[];
  now: boolean;
  state: Word | "missing" | "unheard";
  files: string[];
  reasons: Reasons;
  single: boolean;
}

export interface Verdict {
  word: Word;
  reasons: Reasons;
  seconds: number;
}

export interface Prompts {
  folder: string;
  cards: Card[];
  kept: string;
}

/**
 * closed: no microphone. ready: the moment before recording begins, so that the key is not heard.
 * judging, keeping: the server is asked.
 */
export type Phase = "closed" | "idle" | "ready" | "recording" | "judging" | "judged" | "keeping";

export interface State {
  cards: Card[];
  at: number;
  phase: Phase;
  verdict: Verdict | null;
  problem: string;
  told: string;
}

export type Event =
  | { type: "opened" }
  | { type: "closed"; problem: string }
  | { type: "record" }
  | { type: "begin" }
  | { type: "stop" }
  | { type: "judged"; verdict: Verdict }
  | { type: "failed"; problem: string }
  | { type: "keep" }
  | { type: "kept"; cards: Card[]; file: string }
  | { type: "troubled"; problem: string }
  | { type: "go"; to: number };

export interface Microphone {
  rate: number;
  notices: string[];
  close(): void;
}
