// Can an s and a sh be told apart here? Eight trials by chance. Pure: no page, no clock, no storage,
// no Math.random.
//
// Who cannot hear a difference guesses: of 8 guesses at most 2 are wrong with the probability
// (1 + 8 + 28) / 2^8 = 37/256, 14 %. Who hears it errs rarely: with 2 % a trial, 3 of 8 are wrong
// four times in ten thousand. "I can't tell" counts as wrong, so nobody has to guess.
//
// A loudspeaker that ends at 4 kHz takes 11 dB (embedded voice) or 19 dB (natural voice) from the s and
// 3 or 5 dB from the sh, so the softer one would give itself away. Hence each is played softer by
// chance, and nothing is said of right and wrong before the end. Whoever goes by loudness all the
// same can still get through. The embedded voice's s lies lower than most people's, at 5.7 kHz: a
// loudspeaker that ends at 7 kHz tells it from a sh, and still dulls theirs.

/** @typedef {"s" | "sh"} Hiss */
/**
 * What will be heard, each at its gain (a factor, at most 1), and the answers so far. Frozen.
 * @typedef {object} Check
 * @property {readonly Hiss[]} sounds
 * @property {readonly number[]} gains
 * @property {readonly (Hiss | "unsure")[]} answers
 */

export const TRIALS = 8;
export const MOST_WRONG = 2;
const SOFTEST_DB = -12; // still well above a quiet room at the volume of speech; common practice, no source

/** @param {() => number} random uniform in [0, 1), e.g. Math.random @returns {Check} */
export function startCheck(random) {
  const trials = { length: TRIALS };
  const sounds = Array.from(trials, () => /** @type {Hiss} */ (random() < 0.5 ? "s" : "sh"));
  const gains = Array.from(trials, () => 10 ** ((SOFTEST_DB * random()) / 20));
  return Object.freeze({ sounds, gains, answers: [] });
}

/** @param {Check} check @param {Hiss | "unsure"} answer @returns {Check} */
export function answered(check, answer) {
  if (verdict(check) !== "open") return check;
  return Object.freeze({ ...check, answers: [...check.answers, answer] });
}

/** How many of the answers are wrong. @param {Check} check */
export const wrong = ({ sounds, answers }) => answers.filter((answer, at) => answer !== sounds[at]).length;

/** Whether it goes on, ended with too many wrong, or came through. @param {Check} check */
export function verdict(check) {
  if (wrong(check) > MOST_WRONG) return "hidden";
  return check.answers.length < TRIALS ? "open" : "apart";
}

/** What is to be heard now; null when it is over. @param {Check} check @returns {{ sound: Hiss, gain: number } | null} */
export function current(check) {
  const at = check.answers.length;
  return verdict(check) === "open" ? { sound: check.sounds[at], gain: check.gains[at] } : null;
}
