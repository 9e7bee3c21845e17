const TWO32 = 4294967296;

/**
 * Seeded random numbers: the same seed gives the same numbers on every machine.
 * @source xoshiro128**: Blackman & Vigna 2021, ACM Trans. Math. Softw. 47(4):36, doi:10.1145/3460772; the state is filled
 *   from the seed by the 32-bit finaliser of MurmurHash3 over a counter, so that near seeds start far apart.
 */
export class Random {
  readonly #state = new Uint32Array(4);

  /** @param seed whole number, taken modulo 2^32; or the four words of the state itself, not all 0. */
  constructor(seed: number | readonly [number, number, number, number]) {
    if (typeof seed !== 'number') this.#state.set(seed);
    else for (let i = 0; i < 4; i++) this.#state[i] = finalise((seed + Math.imul(i + 1, 0x9e3779b9)) >>> 0);
  }

  /** @returns whole number, 0 to 2^32 - 1, evenly. */
  next(): number {
    const s = this.#state;
    const result = Math.imul(rotate(Math.imul(s[1], 5), 7), 9) >>> 0;
    const t = s[1] << 9;
    s[2] ^= s[0];
    s[3] ^= s[1];
    s[1] ^= s[2];
    s[0] ^= s[3];
    s[2] ^= t;
    s[3] = rotate(s[3], 11);
    return result;
  }

  /** @returns 0 <= u < 1, evenly. */
  uniform(): number {
    return this.next() / TWO32;
  }

  /**
   * @returns one draw of the normal distribution of mean 0 and deviation 1; takes two numbers.
   * @source Box & Muller 1958, Ann. Math. Statist. 29(2):610-611, doi:10.1214/aoms/1177706645.
   */
  normal(): number {
    const radius = Math.sqrt(-2 * Math.log((this.next() + 1) / TWO32)); // (0, 1]: the logarithm of 0 is kept out
    return radius * Math.cos(2 * Math.PI * this.uniform());
  }
}

function rotate(x: number, by: number): number {
  return (x << by) | (x >>> (32 - by));
}

function finalise(x: number): number {
  let h = x ^ (x >>> 16);
  h = Math.imul(h, 0x85ebca6b);
  h ^= h >>> 13;
  h = Math.imul(h, 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}
