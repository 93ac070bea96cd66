// Where the stones of a path lie, and the hills behind it: the same for a client each time. Pure.

export const WIDTH = 360;
export const HEIGHT = 142;
export const REACH = 5; // how far a stone reaches from its middle
export const ANIMAL = 40; // side of the square in which the animal stands
const [ROWS, PITCH, MARGIN, TOP] = [4, 26, 20, 49]; // PITCH: from row to row; TOP: the middle of the last row
const TURN = PITCH / 2; // radius
const FINE = 2400; // pieces in which the curve is measured

/** @typedef {{ x: number, y: number }} Point */

/**
 * Numbers from 0 up to 1 that follow from a text alone (FNV-1a, then mulberry32).
 * @param {string} text @returns {() => number}
 */
export function numbersOf(text) {
  let state = 2166136261;
  for (const letter of text) state = Math.imul(state ^ letter.charCodeAt(0), 16777619);
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/**
 * The middles of the stones, the first one below: rows from side to side with half circles between, all
 * of it on gentle waves, cut into equal lengths.
 * @param {string} seed  the site @param {number} stones @returns {Point[]}
 */
export function curve(seed, stones) {
  const next = numbersOf(seed);
  const [mirrored, high, long, shift] = [next() < 0.5, 2 + 3 * next(), 130 + 90 * next(), 2 * Math.PI * next()];
  const fine = Array.from({ length: FINE + 1 }, (_, i) => {
    const { x, y } = onRows(i / FINE);
    return { x: mirrored ? WIDTH - x : x, y: y + high * Math.sin((2 * Math.PI * x) / long + shift) };
  });
  const lengths = [0];
  for (const [i, { x, y }] of fine.entries()) if (i > 0) lengths.push(lengths[i - 1] + Math.hypot(x - fine[i - 1].x, y - fine[i - 1].y));
  const found = [];
  for (let stone = 0, at = 0; stone < stones; stone++) {
    const wanted = (lengths[FINE] * stone) / Math.max(1, stones - 1);
    while (at < FINE && lengths[at] < wanted) at++;
    found.push({ x: round(fine[at].x), y: round(fine[at].y) });
  }
  return found;
}

/** Whether the path has come to a stone from the left. @param {readonly Point[]} points @param {number} at */
export const runsRight = (points, at) => points[Math.max(1, at)].x > points[Math.max(1, at) - 1].x;

/** A place on rows and half circles without waves. @param {number} part  of the whole length, 0 to 1 @returns {Point} */
function onRows(part) {
  const [row, turn] = [WIDTH - 2 * (MARGIN + TURN), Math.PI * TURN];
  const along = part * (ROWS * row + (ROWS - 1) * turn);
  const at = Math.min(ROWS - 1, Math.floor(along / (row + turn)));
  const [rest, back] = [along - at * (row + turn), at % 2 === 1];
  const y = TOP + (ROWS - 1 - at) * PITCH;
  const angle = Math.max(0, rest - row) / TURN;
  const x = MARGIN + TURN + Math.min(rest, row) + TURN * Math.sin(angle);
  return { x: back ? WIDTH - x : x, y: y - TURN * (1 - Math.cos(angle)) };
}

/** Two hills, one behind the other, as outlines from edge to edge. @param {string} seed @returns {string[]} */
export function hills(seed) {
  const next = numbersOf(`${seed} hills`);
  return [0.16, 0.5].map((level) => {
    const [low, first, second] = [HEIGHT * (level + 0.12), HEIGHT * (level - 0.16 * next()), HEIGHT * (level + 0.1 + 0.16 * next())].map(round);
    const middle = round(WIDTH * (0.35 + 0.3 * next()));
    return `M0 ${low}Q${round(middle / 2)} ${first} ${middle} ${low}T${WIDTH} ${second}V${HEIGHT}H0Z`;
  });
}

/** @param {number} number */
const round = (number) => Math.round(number * 10) / 10;
