/** A wall as a run saw it, m since the start. */
export interface WallSeen {
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
}

const SAME_ANGLE = (4 * Math.PI) / 180;
const SAME_DISTANCE = 0.12; // m, across
const SAME_GAP = 0.3; // m, along
const HITS = 10; // sightings that make it a wall to be drawn
const ECHOES = 12;

interface Known {
  /** A point of it, its direction, and how far it reaches along that. */
  x: number;
  y: number;
  angle: number;
  from: number;
  to: number;
  hits: number;
}

/** The walls of a run as one drawing: sightings of the same wall are joined. */
export class WallMap {
  readonly #known: Known[] = [];

  /** @param echoes that the sighting rests on. */
  add(x1: number, y1: number, x2: number, y2: number, echoes: number): void {
    if (echoes < ECHOES) return;
    const angle = Math.atan2(y2 - y1, x2 - x1);
    for (const wall of this.#known) {
      const turn = Math.atan(Math.tan(angle - wall.angle)); // a wall has no sense
      if (Math.abs(turn) > SAME_ANGLE) continue;
      const c = Math.cos(wall.angle);
      const s = Math.sin(wall.angle);
      const a = c * (x1 - wall.x) + s * (y1 - wall.y);
      const b = c * (x2 - wall.x) + s * (y2 - wall.y);
      const across1 = c * (y1 - wall.y) - s * (x1 - wall.x);
      const across2 = c * (y2 - wall.y) - s * (x2 - wall.x);
      if (Math.abs(across1 + across2) / 2 > SAME_DISTANCE) continue;
      if (Math.min(a, b) > wall.to + SAME_GAP || Math.max(a, b) < wall.from - SAME_GAP) continue;
      const weight = 1 / Math.min(++wall.hits, 40);
      const shift = ((across1 + across2) / 2) * weight;
      wall.from = Math.min(wall.from, a, b);
      wall.to = Math.max(wall.to, a, b);
      wall.angle += turn * weight * 0.5;
      wall.x -= s * shift;
      wall.y += c * shift;
      return;
    }
    const length = Math.hypot(x2 - x1, y2 - y1);
    this.#known.push({ x: (x1 + x2) / 2, y: (y1 + y2) / 2, angle, from: -length / 2, to: length / 2, hits: 1 });
  }

  /** @returns those that were seen often enough. */
  walls(): WallSeen[] {
    return this.#known
      .filter(({ hits }) => hits >= HITS)
      .map(({ x, y, angle, from, to }) => ({
        x1: x + from * Math.cos(angle),
        y1: y + from * Math.sin(angle),
        x2: x + to * Math.cos(angle),
        y2: y + to * Math.sin(angle),
      }));
  }
}
