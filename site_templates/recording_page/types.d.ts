// Shapes that the recording page's modules share. Card and Assessment mirror cards.py and assess.py
// in builder/recordings/page/; a test compares keys and values. Never served.

export type Verdict = "good" | "doubtful" | "again";
export type Reasons = [sentence: string, figure: string][];

export interface Card {
  id: string;
  stem: string;
  text: string;
  letters: [string, boolean][];
  form: "natural" | "long";
  level: "isolation" | "syllable" | "word" | "phrase" | "sentence";
  ipa: string;
  sound: string;
  holdable: boolean;
  alone: boolean;
  clients: string[];
  current: boolean;
  state: Verdict | "missing" | "unheard";
  files: string[];
  reasons: Reasons;
  replaceable: boolean;
}

export interface Assessment {
  verdict: Verdict;
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
 * assessing, saving: the server is at work.
 */
export type Phase = "closed" | "idle" | "ready" | "recording" | "assessing" | "assessed" | "saving";

export interface State {
  cards: Card[];
  at: number;
  phase: Phase;
  assessment: Assessment | null;
  problem: string;
  notice: string;
}

export type Event =
  | { type: "opened" }
  | { type: "closed"; problem: string }
  | { type: "record" }
  | { type: "begin" }
  | { type: "stop" }
  | { type: "assessed"; assessment: Assessment }
  | { type: "failed"; problem: string }
  | { type: "keep" }
  | { type: "kept"; cards: Card[]; file: string }
  | { type: "playback-failed"; problem: string }
  | { type: "go"; to: number };

export interface Microphone {
  rate: number;
  notices: string[];
  close(): void;
}
