import { wrapAngle } from '../core/angles.js';
import type { Random } from './random.js';
import type { Scene, SceneBuilder } from './scene.js';
import type { MoverData, Place } from './world.js';

const LEG_RADIUS = 0.06; // m; 12 cm across: a trouser leg at the height of the beam
const LEGS_APART = 0.2; // m, between their middles
const STRIDE = 0.25; // m, how far a leg swings ahead of the body
const STRIDES_PER_METRE = 0.7; // common practice: a stride (two steps) of about 1.4 m
const STEP_TIME = 0.4; // s, to put the feet together or apart
const HIPS = 0.8; // m: legs below, a body above
const BODY_RADIUS = 0.18;
const BODY_HEIGHT = 1.7;
const CART = { length: 0.8, width: 0.5, deck: 0.2, height: 0.9, wheelRadius: 0.05 }; // m
const CART_REACH = Math.hypot(CART.length, CART.width) / 2;
const BODY_REACH = STRIDE + LEG_RADIUS; // m, from the middle of a walker to the tip of the foremost foot
const GIVE_WAY = 0.3; // m: whoever walks towards the rover stops so far from it
const BEGINS_OFF = 1; // m from the rover
const BEGINNINGS = 50; // tries
const PATIENCE = 3; // s until they turn back
const STOPS_PER_S = 0.03; // how often somebody stops on the way, and turns back
const TURNS_PER_S = 0.015;

/** Where a mover is; m, rad, m/s, world axes. */
export interface MoverState {
  readonly name: string;
  readonly kind: 'person' | 'cart';
  readonly x: number;
  readonly y: number;
  readonly heading: number;
  /** 0 while it rests. */
  readonly speed: number;
}

/** @returns m, from the rover's outline to the place; 0 inside. */
type Gap = (x: number, y: number) => number;

/** A person or a cart going back and forth along its way: rests, stops, turns back, and gives way to a rover that it meets. */
export class Mover implements MoverState {
  readonly name: string;
  readonly kind: 'person' | 'cart';
  readonly laser: number;
  x: number;
  y: number;
  heading = 0;
  speed = 0;
  readonly #data: MoverData;
  readonly #random: Random;
  readonly #pace: number;
  readonly #face: number;
  readonly #round: number;
  #next: number;
  #step: 1 | -1;
  #walked = 0;
  #spread = 1; // of the feet: 1 in full stride, 0 side by side
  #rest = 0;
  #blocked = 0;

  /** @param gap to where the rover begins: nobody begins there. */
  constructor(data: MoverData, random: Random, builder: SceneBuilder, gap: Gap) {
    this.#data = data;
    this.#random = random;
    this.name = data.name;
    this.kind = data.kind;
    this.laser = data.laser;
    this.#pace = data.speed * (0.85 + 0.3 * random.uniform());
    this.#step = random.uniform() < 0.5 ? 1 : -1;
    let from = 0;
    this.x = this.y = NaN;
    for (let i = 0; i < BEGINNINGS && !(gap(this.x, this.y) > BEGINS_OFF); i++) {
      from = Math.floor(random.uniform() * (data.way.length - 1));
      const part = random.uniform();
      const [a, b] = [data.way[from], data.way[from + 1]];
      this.x = a[0] + part * (b[0] - a[0]);
      this.y = a[1] + part * (b[1] - a[1]);
    }
    this.#next = this.#step === 1 ? from + 1 : from;
    const here: Place = [this.x, this.y];
    if (data.kind === 'person') {
      this.#face = -1;
      this.#round = builder.round(data.name, here, LEG_RADIUS, 'cloth', [0, HIPS]);
      builder.round(data.name, here, LEG_RADIUS, 'cloth', [0, HIPS]);
      builder.round(data.name, here, BODY_RADIUS, 'cloth', [HIPS, BODY_HEIGHT]);
    } else {
      this.#face = builder.face(data.name, here, here, 'wood', [CART.deck, CART.height]);
      for (let i = 1; i < 4; i++) builder.face(data.name, here, here, 'wood', [CART.deck, CART.height]);
      this.#round = builder.round(data.name, here, CART.wheelRadius, 'wood', [0, CART.deck]);
      for (let i = 1; i < 4; i++) builder.round(data.name, here, CART.wheelRadius, 'wood', [0, CART.deck]);
    }
  }

  /** Goes on for `dt` s. @param gap to the rover. */
  go(dt: number, gap: Gap): void {
    const [tx, ty] = this.#data.way[this.#next];
    const dx = tx - this.x;
    const dy = ty - this.y;
    const left = Math.hypot(dx, dy);
    this.speed = 0;
    this.#spread = Math.max(0, this.#spread - dt / STEP_TIME); // whoever stands puts the feet together
    if (left > 0) this.heading = Math.atan2(dy, dx);
    if (this.#rest > 0) {
      this.#rest -= dt;
      return;
    }
    if (this.#isInTheWay(gap)) {
      this.#blocked += dt;
      if (this.#blocked > PATIENCE) this.#turnBack();
      return;
    }
    this.#blocked = 0;
    if (this.#random.uniform() < STOPS_PER_S * dt) {
      this.#rest = 1 + 4 * this.#random.uniform();
      return;
    }
    if (this.#random.uniform() < TURNS_PER_S * dt) {
      this.#turnBack();
      return;
    }
    this.speed = this.#pace;
    this.#spread = Math.min(1, this.#spread + (2 * dt) / STEP_TIME);
    const way = Math.min(left, this.#pace * dt);
    if (left > 0) {
      this.x += (way * dx) / left;
      this.y += (way * dy) / left;
    }
    this.#walked += way;
    if (way === left) this.#arrive();
  }

  /** Writes where its legs, body, deck and wheels are. */
  place(scene: Scene): void {
    const c = Math.cos(this.heading);
    const s = Math.sin(this.heading);
    const put = (round: number, along: number, across: number): void => {
      scene.rounds[3 * round] = this.x + c * along - s * across;
      scene.rounds[3 * round + 1] = this.y + s * along + c * across;
    };
    if (this.kind === 'person') {
      const swing = STRIDE * this.#spread * Math.sin(2 * Math.PI * STRIDES_PER_METRE * this.#walked);
      put(this.#round, swing, LEGS_APART / 2);
      put(this.#round + 1, -swing, -LEGS_APART / 2);
      put(this.#round + 2, 0, 0);
      return;
    }
    const corners = [
      [1, 1],
      [-1, 1],
      [-1, -1],
      [1, -1],
    ].map(([i, j]) => [(i * CART.length) / 2, (j * CART.width) / 2]);
    corners.forEach(([along, across], i) => {
      const [nextAlong, nextAcross] = corners[(i + 1) % 4];
      scene.faces[4 * (this.#face + i)] = this.x + c * along - s * across;
      scene.faces[4 * (this.#face + i) + 1] = this.y + s * along + c * across;
      scene.faces[4 * (this.#face + i) + 2] = this.x + c * nextAlong - s * nextAcross;
      scene.faces[4 * (this.#face + i) + 3] = this.y + s * nextAlong + c * nextAcross;
      put(this.#round + i, 0.85 * along, 0.85 * across);
    });
  }

  /** A place nearer to the rover just ahead, and near already: walkers look where they go. */
  #isInTheWay(gap: Gap): boolean {
    const reach = this.kind === 'person' ? BODY_REACH : CART_REACH;
    const here = gap(this.x, this.y);
    if (here > reach + GIVE_WAY) return false;
    const ahead = gap(this.x + 0.1 * Math.cos(this.heading), this.y + 0.1 * Math.sin(this.heading));
    return ahead < here;
  }

  #arrive(): void {
    this.#spread = 0; // to turn with
    const last = this.#data.way.length - 1;
    if ((this.#next === last && this.#step === 1) || (this.#next === 0 && this.#step === -1)) {
      this.#step = this.#step === 1 ? -1 : 1;
      this.#rest = this.#data.rest * this.#random.uniform();
    }
    this.#next += this.#step;
  }

  #turnBack(): void {
    this.#spread = 0;
    this.#blocked = 0;
    this.#step = this.#step === 1 ? -1 : 1;
    this.#next = Math.min(this.#data.way.length - 1, Math.max(0, this.#next + this.#step));
    this.heading = wrapAngle(this.heading + Math.PI);
  }
}
