// Shapes that the modules of the pages share. Page data mirrors builder/site/blocks/, Trial,
// Tally and Sitting mirror builder/model/record.py; a test compares keys and values. Never published.

export type Form = "long" | "natural";
export type Support = "imitation" | "delayed" | "spontaneous";
export type Show = "picture" | "print" | "both";
export type Mark = "clear" | "almost" | "missed" | "not_tried";
export type End = "" | "done" | "time" | "enough" | "hard";
export type Day = "mon" | "tue" | "wed" | "thu" | "fri" | "sat" | "sun";
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

export interface PassageData {
  paragraphs: [string, boolean][][];
  words: number;
  targets: number;
  counts: number[];
  situation: string;
  minutes: number;
}

export interface StepData {
  id: string;
  name: string;
  level: "isolation" | "syllable" | "word" | "phrase" | "sentence" | "reading" | "telling" | "talk";
  sound: string;
  reminder: string;
  misses: number;
  easier: string;
  changes: boolean;
  judges: boolean;
  hears: boolean;
  rounds: RoundData[];
  items: ItemData[];
  pairs: [ItemData, ItemData][];
  imitated: [ItemData, ItemData][];
  passage: PassageData | null;
}

/** animal: at the head of the stones. faces: where it looks. praise: spoken at the end; null: the helper says it. */
export interface PathData {
  animal: PictureData | null;
  faces: "left" | "right";
  praise: ClipData | null;
}

/** The days of one who listens. */
export interface RolePractice {
  role: Role;
  days: Day[];
  times?: Time[];
}

export interface PageData {
  version: 2;
  site: string;
  plan: string;
  practice: string;
  home: string;
  top: string;
  language: string;
  helper: Role;
  times: Time[];
  days: Day[];
  by_role: RolePractice[];
  minutes: number;
  estimate: number;
  planned_days: number;
  paced: boolean;
  hiss: boolean;
  breath: number;
  pause: number;
  path: PathData | null;
  steps: StepData[];
  easier: StepData[];
  wording: Record<string, string>;
}

export interface HissData {
  s: string;
  sh: string;
  soft: boolean;
  wording: Record<string, string>;
}

export interface ReminderData {
  site: string;
  helper: Role;
  by_role: RolePractice[];
  days: Day[];
  times: Time[];
  wording: Record<string, string>;
}

export interface EarWord {
  word: string;
  sound: string;
  right: string;
  wrong: string;
  told: string;
  between: boolean;
}

export interface EarData {
  language: string;
  words: EarWord[];
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
  spoken: string;
  helper: Role;
  other_helpers: Role[];
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

/** planned: counted in how much is done; easier, closing: put in by how it goes. */
export type TaskKind = "planned" | "warm-up" | "easier" | "closing";

/**
 * One item of one pass over a round: what is asked now. `number`: of the round in its step; `first`: it
 * opens its round. `pair`: the two words of which the client chooses one; the item is then the one with
 * the target. `helped`: somebody else is there, who may say it first. A text or a talk is one task: its
 * item has no clip, its step the passage.
 */
export interface Task {
  kind: TaskKind;
  step: StepData;
  round: RoundData;
  number: number;
  item: ItemData;
  pair: [ItemData, ItemData] | null;
  helped: boolean;
  first: boolean;
}

export type Interlude = "round" | "breath" | "hard" | "easier";

export type Phase =
  | "ask" | "hear" | "wait" | "say" | "reported" | "marked" | "again" | "amend" | "interlude" | "done" | "stopped";

/**
 * Where a run stands. Frozen; `advance` in rounds.js makes the next one.
 * Of a pair: `chosen` by the client, `reported` by who listens as heard (ids); the phase is "reported"
 * until both look. `played`: a model was heard. `own`: what the client judged first. `ms`: of the last
 * mark, from the start of the sitting; `usedMs`: of this run, without rests; `limitMs`: when it ends, 0
 * for never; `late`: tries since then. `missesFrom`, `holdsFrom`, `windowFrom`: the trials from which
 * misses and holds in a row and the last ten are counted. `help`: the model is back; `stayed`: the
 * easier step was not wanted, and no two were clear in a row since; `eased`: how often it was too hard. `end`: how it ended, or ends after the closing word. `spoken`: no clip is played.
 * `steps`: all that are known. `before`, `planned`, `done`: planned tries before this run, in it, and
 * gone through. `repeats`: the item is said once more after a miss. `paused`: where the run stands while
 * the last mark is changed, or after the family has stopped it.
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
  readonly own: Mark | null;
  readonly mark: Mark | null;
  readonly ms: number;
  readonly usedMs: number;
  readonly limitMs: number;
  readonly late: number;
  readonly trials: readonly Trial[];
  readonly tallies: readonly Tally[];
  readonly missesFrom: number;
  readonly holdsFrom: number;
  readonly windowFrom: number;
  readonly help: boolean;
  readonly stayed: boolean;
  readonly eased: number;
  readonly end: End;
  readonly spoken: boolean;
  readonly breath: number;
  readonly steps: readonly StepData[];
  readonly before: number;
  readonly planned: number;
  readonly done: number;
  readonly repeats: boolean;
  readonly paused: Pick<Run, "phase" | "interlude" | "queued" | "end" | "paused"> | null;
}

export type Event =
  | { type: "hear" }
  | { type: "heard" }
  | { type: "unheard" }
  | { type: "said" }
  | { type: "declined" }
  | { type: "waited" }
  | { type: "hurried" }
  | { type: "own"; mark: Mark }
  | { type: "mark"; mark: Mark; ms: number }
  | { type: "choose"; item: string }
  | { type: "choose-again" }
  | { type: "reported"; item: string; ms: number }
  | { type: "look" }
  | { type: "change" }
  | { type: "keep" }
  | { type: "next" }
  | { type: "retry" }
  | { type: "text-over"; tallies: readonly Tally[] }
  | { type: "go-on" }
  | { type: "too-hard" }
  | { type: "spoken"; spoken: boolean }
  | { type: "stop" };

/** The site on the home screen; what it keeps kept for good. */
export type Offer = "install" | "keep";

/**
 * What the family chose on this device, and what it remembers: practice paused, words that come by
 * themselves, who listens there, whether a sitting ends with stones and praise, when a record was last
 * handed on (ISO moments), the day of the last offer, offers that were refused for good, the language of
 * pages that was chosen last.
 */
export interface Settings {
  paused?: boolean;
  paced?: boolean;
  helper?: Role;
  path?: boolean;
  handedOn?: string;
  offered?: string;
  refused?: Offer[];
  tongue?: string;
}

/**
 * How the sitting of this day and time stands. from: index of the planned try at which the next run
 * begins. left, minutesLeft: planned tries and minutes that it may take; about: minutes it will take.
 * next: the planned sitting after it, where none is to be done now.
 */
export interface Standing {
  kind: "ready" | "begun" | "done" | "free" | "paused";
  time: Time;
  from: number;
  left: number;
  minutesLeft: number;
  about: number;
  newSheet: boolean;
  next: Next | null;
}

/** A planned sitting so many days from now. */
export interface Next {
  days: number;
  day: Day;
  time: Time;
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
  /** Samples to play as if they came from there, in memory alone; false where that cannot be. */
  hold(source: string, samples: Float32Array<ArrayBuffer>, rate: number): boolean;
  drop(source: string): void;
  /** Whether it came from the server whole. */
  has(source: string): Promise<boolean>;
  /** gain: a factor, at most 1. */
  play(source: string, gain?: number): Promise<boolean>;
  stop(): void;
}
