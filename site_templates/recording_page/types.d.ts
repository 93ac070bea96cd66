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
  level: "isolation" | "syllable" | "word" | "phrase" | "sentence" | "reading" | "telling" | "talk";
  ipa: string;
  sound: string;
  holdable: boolean;
  alone: boolean;
  clients: string[];
  current: boolean;
  state: Verdict | "missing" | "heard" | "unheard";
  files: string[];
  reasons: Reasons;
  digest: string;
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

/** A recording that was not kept yet. folder: where it goes. cut: the microphone was unplugged before Stop. made: ms. */
export interface Recording {
  id: string;
  folder: string;
  card: Card;
  wav: ArrayBuffer;
  cut: boolean;
  assessment: Assessment | null;
  made: number;
}

/**
 * ready: the moment before recording begins, so that the key is not heard. recorded: not assessed,
 * because something came between. assessing, saving: the server is at work.
 */
export type Phase = "idle" | "ready" | "recording" | "recorded" | "assessing" | "assessed" | "saving";

/** closed: none was opened. gone: it was unplugged. there: it was, and now there is one. */
export type MicrophoneState = "closed" | "open" | "gone" | "there";

/**
 * held: something came between, so only Keep, Redo and Discard part with the recording.
 * heard: the recording in hand, else the one in the folder, was played: a doubtful one is used only then.
 * stored: it is in the browser, too. away: the server does not answer.
 */
export interface State {
  cards: Card[];
  folder: string;
  at: number;
  phase: Phase;
  microphone: MicrophoneState;
  microphoneProblem: string;
  assessment: Assessment | null;
  cut: boolean;
  held: boolean;
  heard: boolean;
  stored: boolean;
  away: boolean;
  problem: string;
  notice: string;
}

/** refused: it can never be used. away: the server does not answer, or not to this window. */
export type Failure = "refused" | "away" | "other";

export type Event =
  | { type: "opened" }
  | { type: "closed"; problem: string }
  | { type: "lost" }
  | { type: "devices"; any: boolean }
  | { type: "record" }
  | { type: "begin" }
  | { type: "stop"; cut: boolean }
  | { type: "stored" }
  | { type: "check" }
  | { type: "assessed"; assessment: Assessment }
  | { type: "failed"; problem: string; why: Failure }
  | { type: "away"; problem: string }
  | { type: "back"; cards: Card[] }
  | { type: "keep" }
  | { type: "kept"; cards: Card[]; file: string }
  | { type: "heard" }
  | { type: "accepted"; cards: Card[] }
  | { type: "discard" }
  | { type: "restored"; at: number; recording: Recording }
  | { type: "playback-failed"; problem: string }
  | { type: "go"; to: number };

export interface Microphone {
  rate: number;
  notices: string[];
  close(): void;
}
