// Shapes that the modules of the pages share. Page data mirrors builder/site/page_data.py, Trial,
// Tally and Sitting mirror builder/model/record.py; a test compares keys and values. Never published.

export type Form = "long" | "natural";
export type Support = "imitation" | "delayed" | "spontaneous";
export type Show = "picture" | "print" | "both";
export type Mark = "clear" | "almost" | "missed" | "not_tried";
export type End = "" | "done" | "time" | "enough" | "hard";
export type Time = "morning" | "midday" | "afternoon" | "evening";
export type Role = "home" | "other home" | "school" | "self";
export type Words = Readonly<Record<string, string>>;

export interface ClipData {
  src: string;
  duration: number;
  start: number | null;
  end: number | null;
  spectral_mean: number | null;
  peak: number;
  loudness: number;
  voice: "recorded" | "natural" | "man" | "embedded" | "online";
}

export interface PictureData {
  src: string;
  alt: string;
}

export interface ItemData {
  id: string;
  text: string;
  letters: [string, boolean][];
  picture: PictureData | null;
  natural: ClipData | null;
  long: ClipData | null;
}

export interface RoundData {
  id: string;
  form: Form;
  support: Support;
  show: Show;
  times: number;
  contrast: boolean;
}

export interface StepData {
  id: string;
  name: string;
  level: "isolation" | "syllable" | "word" | "phrase" | "sentence" | "reading" | "telling" | "talk";
  sound: string;
}

export interface EasierData {
  name: string;
  href: string;
}

export interface PageData {
  version: 1;
  site: string;
  plan: string;
  practice: string;
  home: string;
  language: string;
  helper: Role;
  times: Time[];
  reminder: string;
  misses: number;
  breath: number;
  pause: number;
  changes: boolean;
  step: StepData;
  easier: EasierData | null;
  rounds: RoundData[];
  items: ItemData[];
  pairs: [ItemData, ItemData][];
  imitated: [ItemData, ItemData][];
  wording: Record<string, string>;
}

export interface HissData {
  s: string;
  sh: string;
  soft: boolean;
  wording: Record<string, string>;
}

/** How a clinic wants the record handed back. */
export type Way = "share" | "download" | "copy" | "code";

export interface VisitStep {
  id: string;
  name: string;
  sound: string;
  items: [string, string][];
}

export interface VisitData {
  site: string;
  client: string;
  language: string;
  helper: Role;
  records: Way[];
  steps: VisitStep[];
  wording: Record<string, string>;
}

export interface Trial {
  step: string;
  round: string;
  item: string;
  form: Form;
  support: Support;
  mark: Mark;
  ms: number;
  chosen?: string;
  heard?: string;
  repeat?: boolean;
  own?: Mark;
}

export interface Tally {
  step: string;
  words: number | null;
  targets: number | null;
  slipped: number | null;
  later: boolean;
  ms: number;
}

export interface Sitting {
  record: 1;
  id: string;
  site: string;
  plan: string;
  practice: string;
  start: string;
  time: Time;
  helper: Role;
  trials: Trial[];
  tallies: Tally[];
  note: string;
  began: number;
  done: number;
  end: End;
}

/**
 * One item of one pass over a round: what is asked now. `first`: it opens its round. `pair`: the two
 * words of which the client chooses one; the item is then the one with the target. `helped`:
 * somebody else is there, who may say it first.
 */
export interface Task {
  step: string;
  round: RoundData;
  number: number;
  item: ItemData;
  pair: [ItemData, ItemData] | null;
  helped: boolean;
  first: boolean;
}

export type Interlude = "round" | "breath" | "hard";

export type Phase =
  | "ask" | "hear" | "wait" | "say" | "reported" | "marked" | "again" | "amend" | "interlude" | "done" | "stopped";

/**
 * Where a run of a step stands. Frozen; `advance` in rounds.js makes the next one.
 * Of a pair: `chosen` by the client, `reported` by who listens as heard (ids); the phase is "reported"
 * until both look. `played`: a model was heard. `missesFrom`, `holdsFrom`: the trials from which misses
 * and long holds in a row are counted. `repeats`: the item is said once
 * more after a miss. `paused`: where the run stands while the last mark is changed.
 */
export interface Run {
  readonly tasks: readonly Task[];
  readonly at: number;
  readonly phase: Phase;
  readonly interlude: Interlude | null;
  readonly queued: readonly Interlude[];
  readonly played: boolean;
  readonly waited: boolean;
  readonly again: boolean;
  readonly chosen: string | null;
  readonly reported: string | null;
  readonly mark: Mark | null;
  readonly ms: number;
  readonly missesFrom: number;
  readonly holdsFrom: number;
  readonly trials: readonly Trial[];
  readonly limits: { readonly misses: number; readonly breath: number };
  readonly repeats: boolean;
  readonly paused: Pick<Run, "phase" | "interlude" | "queued"> | null;
}

export type Event =
  | { type: "hear" }
  | { type: "heard" }
  | { type: "unheard" }
  | { type: "said" }
  | { type: "declined" }
  | { type: "waited" }
  | { type: "hurried" }
  | { type: "mark"; mark: Mark; ms: number }
  | { type: "choose"; item: string }
  | { type: "choose-again" }
  | { type: "reported"; item: string; ms: number }
  | { type: "look" }
  | { type: "change" }
  | { type: "keep" }
  | { type: "next" }
  | { type: "retry" }
  | { type: "go-on" }
  | { type: "stop" };

/**
 * What the family chose on this device, and what it remembers: practice paused, words that come by
 * themselves, who listens there, when a record was last handed on (ISO moments).
 */
export interface Settings {
  paused?: boolean;
  paced?: boolean;
  helper?: Role;
  handedOn?: string;
}

export interface Store {
  settings(): Settings;
  choose(change: Settings): boolean;
  save(sitting: Sitting): Promise<boolean>;
  keeps(): Promise<boolean>;
  all(): Promise<Sitting[]>;
  persist(): Promise<boolean>;
}

export interface Player {
  unlock(): Promise<void>;
  load(sources: readonly string[]): Promise<void>;
  /** gain: a factor, at most 1. */
  play(source: string, gain?: number): Promise<boolean>;
  stop(): void;
}
