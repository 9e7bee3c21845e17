import type { Scene } from './cast.js';

/** m, m, rad in world axes: where the rover stands, looking along the aisle. */
export const ROVER_POSE = { x: 2.2, y: 2.0, heading: 0 } as const;

const LEG_RADIUS = 0.06; // m; 12 cm across: a trouser leg at the height of the beam
const LEGS_APART = 0.2; // m, between their middles, across the way
const STRIDE = 0.3; // m, how far a leg swings ahead of the body
const PACE = 0.8; // m/s, a person with a tray
const STRIDES_PER_METRE = 0.7; // common practice: a stride (two steps) of about 1.4 m
const WAY = { x: 3.4, from: 1.4, to: 3.6 } as const; // m: back and forth across the rover's front, 1 m off

const FACES: readonly (readonly [number, number, number, number])[] = [
  [0, 0, 6, 0],
  [6, 0, 6, 4.5],
  [6, 4.5, 2.1, 4.5], // then a glass door of 0.9 m: no echo comes back from it
  [1.2, 4.5, 0, 4.5],
  [0, 4.5, 0, 0],
  [4.15, 4.5, 4.15, 3.0], // a partition, 0.1 m thick
  [4.15, 3.0, 4.25, 3.0],
  [4.25, 3.0, 4.25, 4.5],
];

const ROUNDS: readonly (readonly [number, number, number])[] = [
  [3.6, 0.5, 0.025], // a bench: four legs; its top is above the beam
  [5.2, 0.5, 0.025],
  [3.6, 1.1, 0.025],
  [5.2, 1.1, 0.025],
  [0.9, 3.3, 0.05], // a post of the roof
];

/** A potting room of 6 x 4.5 m in a plant nursery with one person in it. World axes: x and y along the walls from one corner. */
export class Nursery {
  readonly scene: Scene = {
    faces: Float64Array.from(FACES.flat()),
    rounds: Float64Array.from([...ROUNDS.flat(), 0, 0, LEG_RADIUS, 0, 0, LEG_RADIUS]),
  };
  readonly #legs = ROUNDS.length * 3;

  constructor() {
    this.moveTo(0);
  }

  /** Puts the person where they are at `time` (s since the beginning). */
  moveTo(time: number): void {
    const length = WAY.to - WAY.from;
    const walked = PACE * time;
    const lap = walked % (2 * length);
    const y = WAY.from + (lap < length ? lap : 2 * length - lap);
    const swing = STRIDE * Math.sin(2 * Math.PI * STRIDES_PER_METRE * walked);
    const { rounds } = this.scene;
    rounds[this.#legs] = WAY.x - LEGS_APART / 2;
    rounds[this.#legs + 1] = y + swing;
    rounds[this.#legs + 3] = WAY.x + LEGS_APART / 2;
    rounds[this.#legs + 4] = y - swing;
  }
}
