import type { Wall } from '../../../typescript/src/client.js';
import { wrapAngle } from '../geometry.js';
import type { Model } from '../model.js';
import { degrees, measuredLength } from '../units.js';
import { type Noise, tapeLength } from './deviation.js';
import { cornerAt, follow, type Spot, wallAt } from './snap.js';

/** A pinned wall or corner: what it measures now, or when it was last seen. */
export interface Pin {
  readonly number: number;
  readonly spot: Spot;
  /** Unix time by the daemon's clock. */
  seenAt: number;
  isSeen: boolean;
  lines: readonly [string, string];
  /** Spread of its echoes over what is expected of the sensor; NaN: not known. */
  roughness: number;
}

const PINS_MOST = 6;

/** What a person put on the plan: one tape and some pins. Kept up with what the daemon sees. */
export class Marks {
  tape: { readonly a: Spot; readonly b: Spot | undefined } | undefined;
  /** The tape's plate. */
  plate = '';
  readonly pins: Pin[] = [];
  #count = 0;

  /** Sets the tape's next end: a third one begins a new tape. */
  setEnd(spot: Spot): void {
    if (this.tape === undefined || this.tape.b !== undefined) this.tape = { a: spot, b: undefined };
    else this.tape = { a: this.tape.a, b: spot };
  }

  /** Takes the tape's last end back. */
  takeBack(): void {
    this.tape = this.tape?.b === undefined ? undefined : { a: this.tape.a, b: undefined };
  }

  /** Pins a spot on a wall or corner; one that is pinned there already goes. @returns whether something was pinned or taken away. */
  pin(spot: Spot): boolean {
    if (spot.hold !== 'wall' && spot.hold !== 'corner') return false;
    const known = this.pins.findIndex((pin) => isSame(pin.spot, spot));
    if (known >= 0) this.pins.splice(known, 1);
    else {
      if (this.pins.length >= PINS_MOST) this.pins.shift();
      this.#count = this.pins.length === 0 ? 1 : this.#count + 1;
      const number = this.#count;
      this.pins.push({ number, spot, seenAt: 0, isSeen: false, lines: ['', ''], roughness: Number.NaN });
    }
    return true;
  }

  /** Drops everything: what it stood on cannot be found again. @returns whether there was anything. */
  clear(): boolean {
    const was = this.tape !== undefined || this.pins.length > 0;
    this.tape = undefined;
    this.pins.length = 0;
    return was;
  }

  /** New shapes have come. @param time Unix time by the daemon's clock, s. */
  update(model: Model, noise: Noise, time: number): void {
    const { tape } = this;
    if (tape !== undefined) {
      follow(model, tape.a);
      if (tape.b !== undefined) {
        follow(model, tape.b);
        const { length, deviation } = tapeLength(model, tape.a, tape.b, noise);
        this.plate = measuredLength(length, deviation);
      }
    }
    for (const pin of this.pins) {
      pin.isSeen = follow(model, pin.spot);
      if (!pin.isSeen) continue;
      pin.seenAt = time;
      if (pin.spot.hold === 'wall') tellWall(pin, wallAt(model, pin.spot), noise);
      else tellCorner(pin, model);
    }
  }
}

function isSame(a: Spot, b: Spot): boolean {
  if (a.hold !== b.hold) return false;
  if (a.hold === 'corner') return Math.hypot(a.x - b.x, a.y - b.y) < 0.2;
  const isOneLine = Math.abs(wrapAngle(a.normal - b.normal)) < 0.1 && Math.abs(a.distance - b.distance) < 0.1;
  return isOneLine && Math.hypot(a.x - b.x, a.y - b.y) < 0.6;
}

function tellWall(pin: Pin, wall: Wall | undefined, noise: Noise): void {
  if (wall === undefined) return;
  pin.roughness = Math.hypot(1, wall.roughnessM / noise(wall.distanceM));
  const angle = degrees(wrapAngle(wall.normalRad));
  const deviation = ((Math.sqrt(wall.normalVar) * 180) / Math.PI).toFixed(1);
  pin.lines = [
    `wall ⊥ ${measuredLength(wall.distanceM, Math.sqrt(wall.distanceVar))}`,
    `at ${angle} ± ${deviation} · roughness ${pin.roughness.toFixed(1)}`,
  ];
}

function tellCorner(pin: Pin, model: Model): void {
  const corner = cornerAt(model, pin.spot);
  if (corner === undefined) return;
  const distance = measuredLength(Math.hypot(corner.xM, corner.yM), Number.NaN);
  const bearing = degrees(Math.atan2(corner.yM, corner.xM));
  const deviation = ((corner.angleSdRad * 180) / Math.PI).toFixed(1);
  pin.lines = [
    `corner ${degrees(corner.angleRad)} ± ${deviation}`,
    `${distance} away at ${bearing} · ${corner.kind ?? 'kind unknown'}`,
  ];
}
