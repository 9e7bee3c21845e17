import { spanChi } from '../../geometry/beamLine.js';
import type { EchoOrder } from './echoOrder.js';
import { LineRows } from './lineRows.js';

/** Gain in chi² that pays for one more line: 3 parameters, searched over all places of the break (15 would do for 100 places at 1 %). */
const SPLIT = 18;
/** Loss in chi² below which two neighbouring lines are one: 2 parameters and the search. */
const MERGE = 16;
/** A lone echo further than this many standard deviations off its line is another surface; neighbours follow at FOLLOW. */
const STRAY = 4.5;
const FOLLOW = 3;
/** Echoes of a line that can tell a stray from itself. */
const STRAY_FROM = 7;
/** Straight pieces of the outline, each of one line or too short to tell, in order. */
export class PieceSplitter {
  count = 0;
  /** [count], half-open spans of echoes, in order. */
  first = new Int32Array(0);
  last = new Int32Array(0);
  #from = new Int32Array(0);
  #to = new Int32Array(0);
  #stack = new Int32Array(0);
  readonly #line = new LineRows();

  constructor() {
    this.#line.reserve(1);
  }

  #reserve(echoes: number): void {
    if (echoes <= this.first.length) return;
    const room = Math.max(512, echoes); // a piece holds at least one echo
    this.first = new Int32Array(room);
    this.last = new Int32Array(room);
    this.#from = new Int32Array(room);
    this.#to = new Int32Array(room);
    this.#stack = new Int32Array(2 * room + 2);
  }

  /** Splits every run between cuts, moves the breaks to where they fit best, joins what is one line, takes strays out. */
  split(order: EchoOrder): void {
    this.#reserve(order.count);
    this.count = 0;
    let begin = 0;
    for (let k = 0; k < order.count; k++) {
      if (order.cut[k] === 0 && k + 1 < order.count) continue;
      this.#splitRun(order.sums, begin, k + 1);
      begin = k + 1;
    }
    this.#takeStrays(order);
  }

  #splitRun(sums: Float64Array, begin: number, end: number): void {
    const stack = this.#stack;
    const start = this.count;
    let top = 0;
    stack[top++] = begin;
    stack[top++] = end;
    while (top > 0) {
      const b = stack[--top];
      const a = stack[--top];
      const at = b - a < 3 ? -1 : bestBreak(sums, a, b);
      if (at < 0) {
        this.first[this.count] = a;
        this.last[this.count++] = b;
      } else {
        stack[top++] = at;
        stack[top++] = b;
        stack[top++] = a;
        stack[top++] = at;
      }
    }
    if (this.count - start < 2) return;
    for (let round = 0; round < 2; round++) {
      for (let p = start; p + 1 < this.count; p++) {
        const at = shiftBreak(sums, this.first[p], this.last[p], this.last[p + 1]);
        this.last[p] = at;
        this.first[p + 1] = at;
      }
      this.#merge(sums, start);
    }
  }

  #merge(sums: Float64Array, start: number): void {
    let kept = start;
    for (let p = start + 1; p < this.count; p++) {
      const a = this.first[kept];
      const b = this.last[p];
      const loss = spanChi(sums, a, b) - spanChi(sums, a, this.last[kept]) - spanChi(sums, this.first[p], b);
      if (loss < MERGE) this.last[kept] = b;
      else {
        kept++;
        this.first[kept] = this.first[p];
        this.last[kept] = b;
      }
    }
    this.count = kept + 1;
  }

  /** Takes out echoes that the rest of their piece does not explain, and parts two echoes too steep to be one surface. */
  #takeStrays(order: EchoOrder): void {
    const { first, last, count } = this;
    const from = this.#from;
    const to = this.#to;
    let out = 0;
    for (let p = 0; p < count; p++) {
      let a = first[p];
      const b = last[p];
      if (b - a === 2 && !order.isClose(a, a + 1)) {
        from[out] = a;
        to[out++] = ++a;
      } else if (b - a >= STRAY_FROM) {
        this.#line.setSpan(0, order.sums, a, b);
        const lineA = this.#line.a[0];
        const lineB = this.#line.b[0];
        const { x, y, v } = order;
        for (let k = a; k < b; k++) {
          const e = 1 - lineA * x[k] - lineB * y[k];
          if (v[k] * e * e < FOLLOW * FOLLOW) continue;
          const end = strayEnd(order, lineA, lineB, k, b);
          if (end === k) continue;
          if (k > a) {
            from[out] = a;
            to[out++] = k;
          }
          from[out] = k;
          to[out++] = end;
          a = end;
          k = end - 1;
        }
      }
      if (b > a) {
        from[out] = a;
        to[out++] = b;
      }
    }
    this.first = from;
    this.last = to;
    this.#from = first;
    this.#to = last;
    this.count = out;
  }
}

/** The end of the stray echoes that begin at k on one side of the line, k itself where they are too few and too near. */
function strayEnd(order: EchoOrder, lineA: number, lineB: number, k: number, last: number): number {
  const { x, y, v } = order;
  const e = 1 - lineA * x[k] - lineB * y[k];
  let end = k + 1;
  while (end < last) {
    const next = 1 - lineA * x[end] - lineB * y[end];
    if (next * e < 0 || v[end] * next * next < FOLLOW * FOLLOW) break;
    end++;
  }
  return end - k > 1 || v[k] * e * e > STRAY * STRAY ? end : k;
}

/**
 * The break of a .. b that lowers chi² most, or -1 where none pays. Looks at ever wider distances from both ends, since the
 * gain of a bend falls off over as many echoes as it lies from the nearer end, then closes in on the best.
 */
function bestBreak(sums: Float64Array, a: number, b: number): number {
  const whole = spanChi(sums, a, b);
  if (whole < SPLIT) return -1;
  let best = Infinity;
  let at = a + 1;
  let step = 1;
  for (let near = 1; near <= (b - a) >> 1; near += near < 4 ? 1 : near >> 1) {
    const left = spanChi(sums, a, a + near) + spanChi(sums, a + near, b);
    const right = spanChi(sums, a, b - near) + spanChi(sums, b - near, b);
    if (left < best || right < best) {
      at = left < right ? a + near : b - near;
      best = Math.min(left, right);
      step = near;
    }
  }
  if (whole - best < SPLIT / 3) return -1;
  step = (step >> 1) + 1;
  while (step > 0) {
    const below = at - step;
    const above = at + step;
    const chiBelow = below > a ? spanChi(sums, a, below) + spanChi(sums, below, b) : Infinity;
    const chiAbove = above < b ? spanChi(sums, a, above) + spanChi(sums, above, b) : Infinity;
    if (chiBelow < best && chiBelow <= chiAbove) {
      best = chiBelow;
      at = below;
    } else if (chiAbove < best) {
      best = chiAbove;
      at = above;
    }
    step >>= 1;
  }
  return whole - best > SPLIT ? at : -1;
}

/** The break between a and c, near `at`, that fits best with the lines on either side free to turn. */
function shiftBreak(sums: Float64Array, a: number, at: number, c: number): number {
  let best = spanChi(sums, a, at) + spanChi(sums, at, c);
  let found = at;
  for (let way = -1; way <= 1; way += 2) {
    let worse = 0;
    for (let k = at + way; k > a && k < c && worse < 3; k += way) {
      const chi = spanChi(sums, a, k) + spanChi(sums, k, c);
      if (chi < best) {
        best = chi;
        found = k;
        worse = 0;
      } else worse++;
    }
  }
  return found;
}
