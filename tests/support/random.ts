import { Random } from '../../src/simulator/random.js';

/** @returns numbers in [0, 1), the same for the same seed. */
export function seededRandom(seed: number): () => number {
  const random = new Random(seed);
  return () => random.uniform();
}
