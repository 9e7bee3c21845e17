/** Bits a byte takes on the line: one start, eight data, one stop. */
const BITS_A_BYTE = 10;

/**
 * s, how far back the fit looks, and the parts it is kept in. Measured (arrivalClock.test.ts): at 0.5 s jitter of single samples
 * costs over 1 ms rms, at 1.5 s a rate that wobbles by 1 % in 10 s nearly so; parts are longer than an adapter's 16 ms.
 */
const WINDOW = 1;
const PARTS = 48;
/** s, arrivals over less than this do not tell the rate. */
const RATE_SPAN = 0.1;
/** Late by more than this in every arrival of so many, over so long: samples are missing that nobody counted. s. */
const LATE = 0.02;
const LATE_COUNT = 6;
const LATE_SPAN = 0.08;
/** s without an arrival after which the old ones say nothing any more. */
const SILENCE = 1;

/** What one chunk said. */
export interface Arrival {
  /** Bytes received up to and with this chunk. */
  readonly received: number;
  /** s, Clock time of arrival. */
  readonly at: number;
  /** Number of the newest sample seen in it, and the beginning of its packet in bytes received. */
  readonly seenIndex: number;
  readonly seenBegin: number;
}

/**
 * From the time at which bytes arrive to the time at which each sample was measured. An arrival is never early: it is the time
 * of measuring, plus the transmission, plus whatever buffers, adapters and schedulers add. So the line under all points
 * (sample number, arrival less transmission) that lies closest to them gives the times, freed of jitter: the edge of their lower
 * convex hull above the mean abscissa. It is fitted over a sliding window and so follows a rate that drifts.
 *
 * Times never fall and are never later than arrival less transmission. Starts again from one arrival after {@link restart},
 * after silence, and when all arrivals of a while are late.
 *
 * @source Moon, Skelly, Towsley 1999, "Estimation and removal of clock skew from network delay measurements", INFOCOM (the
 *   linear programme of section IV; its solution is that edge, as the objective is the height above the mean abscissa).
 * @cost a chunk: the hull of at most 48 points; a sample: a multiplication. No growth.
 */
export class ArrivalClock {
  readonly #byteTime: number;
  /** Of every part of the window the lowest point: sample number, arrival (s), part number. Ring by part number. */
  readonly #index = new Float64Array(PARTS);
  readonly #arrival = new Float64Array(PARTS);
  readonly #part = new Float64Array(PARTS).fill(-1);
  /** Scratch: the points in order, and the hull. */
  readonly #x = new Float64Array(PARTS);
  readonly #y = new Float64Array(PARTS);
  readonly #hull = new Int32Array(PARTS);
  /** The line: time = originTime + period (index - originIndex). */
  #originIndex = 0;
  #originTime = 0;
  #period: number;
  #isEmpty = true;
  #lastAt = -Infinity;
  #lastTime = -Infinity;
  #lateSince = 0;
  #lateCount = 0;

  /** @param baud of the line. @param packetBytes usual length of a packet. @param samples usual number in a packet. */
  constructor(baud: number, packetBytes: number, samples: number) {
    this.#byteTime = BITS_A_BYTE / baud;
    this.#period = (1.2 * packetBytes * this.#byteTime) / samples; // a line that is nearly full: right to some 20 % until measured
  }

  /** s, from one sample to the next, as fitted. */
  get period(): number {
    return this.#period;
  }

  /** The count of samples no longer connects with what was before; the rate is kept. */
  restart(): void {
    this.#isEmpty = true;
    this.#part.fill(-1);
    this.#lateCount = 0;
  }

  /**
   * Takes a chunk and times the samples that it released.
   * @param index, begin  [count] of each sample: its number, and where its packet begins in bytes received.
   * @returns s[count], Clock time of measuring, fresh.
   */
  stamp(arrival: Arrival, index: Readonly<Float64Array>, begin: Readonly<Float64Array>, count: number): Float64Array {
    const { at, received } = arrival;
    if (at - this.#lastAt > SILENCE) this.restart();
    this.#lastAt = at;
    if (count > 0) {
      const seenAt = at - (received - arrival.seenBegin) * this.#byteTime;
      this.#observe(arrival.seenIndex, seenAt, at);
    }
    const time = new Float64Array(count);
    let last = this.#lastTime;
    for (let i = 0; i < count; i++) {
      const fitted = this.#originTime + this.#period * (index[i] - this.#originIndex);
      const latest = at - (received - begin[i]) * this.#byteTime;
      last = Math.max(last, Math.min(fitted, latest));
      time[i] = last;
    }
    this.#lastTime = last;
    return time;
  }

  #observe(index: number, arrival: number, at: number): void {
    if (this.#isEmpty) {
      this.#isEmpty = false;
      this.#originIndex = index;
      this.#originTime = arrival;
    }
    const late = arrival - this.#originTime - this.#period * (index - this.#originIndex);
    if (late < LATE) this.#lateCount = 0;
    else {
      if (this.#lateCount++ === 0) this.#lateSince = at;
      if (this.#lateCount >= LATE_COUNT && at - this.#lateSince >= LATE_SPAN) {
        this.restart();
        this.#observe(index, arrival, at);
        return;
      }
    }
    const part = Math.floor((at / WINDOW) * PARTS);
    const slot = part % PARTS;
    const isNew = this.#part[slot] !== part;
    const isLower = arrival - this.#arrival[slot] < this.#period * (index - this.#index[slot]);
    if (isNew || isLower) {
      this.#part[slot] = part;
      this.#index[slot] = index;
      this.#arrival[slot] = arrival;
    }
    this.#fit(part);
  }

  /** The line under the points of the window, through the lower hull's edge above their mean abscissa. */
  #fit(newest: number): void {
    const { x, y, count } = this.#gather(newest);
    const hull = this.#hull;
    let corners = 0;
    let sum = 0;
    for (let i = 0; i < count; i++) {
      sum += x[i];
      while (corners >= 2 && isAbove(x, y, hull[corners - 2], hull[corners - 1], i)) corners--;
      hull[corners++] = i;
    }
    const mean = sum / count;
    let right = 1;
    while (right < corners - 1 && x[hull[right]] < mean) right++;
    const a = hull[right - 1];
    const b = hull[Math.min(right, corners - 1)];
    const span = y[count - 1] - y[0];
    if (corners >= 2 && span >= RATE_SPAN && x[b] > x[a] && y[b] > y[a]) {
      this.#period = (y[b] - y[a]) / (x[b] - x[a]);
      this.#originTime += y[a] - this.#period * x[a];
      return;
    }
    let lowest = Infinity; // too little to tell the rate: keep it, and lie under all points
    for (let i = 0; i < count; i++) lowest = Math.min(lowest, y[i] - this.#period * x[i]);
    this.#originTime += lowest;
  }

  /** The points still in the window, oldest first, relative to the line's origin, which moves to the newest sample first. */
  #gather(newest: number): { x: Float64Array; y: Float64Array; count: number } {
    const at = newest % PARTS;
    this.#originTime += this.#period * (this.#index[at] - this.#originIndex);
    this.#originIndex = this.#index[at];
    let count = 0;
    for (let part = newest - PARTS + 1; part <= newest; part++) {
      const slot = ((part % PARTS) + PARTS) % PARTS;
      if (this.#part[slot] !== part) continue;
      this.#x[count] = this.#index[slot] - this.#originIndex;
      this.#y[count] = this.#arrival[slot] - this.#originTime;
      count++;
    }
    return { x: this.#x, y: this.#y, count };
  }
}

/** Does point `middle` lie on or above the line from `left` to `right`? */
function isAbove(x: Float64Array, y: Float64Array, left: number, middle: number, right: number): boolean {
  return (y[middle] - y[left]) * (x[right] - x[left]) >= (y[right] - y[left]) * (x[middle] - x[left]);
}
