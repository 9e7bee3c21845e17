/**
 * Kalman filter of a point that moves in the plane with a velocity that wanders (white acceleration).
 * State [x, y, vx, vy]; measurements are places.
 * @source Bar-Shalom, Li & Kirubarajan, Estimation with Applications to Tracking and Navigation, 2001, 5.2 and 6.2.2
 *   (piecewise constant white acceleration is 6.3.2; here the continuous form 6.2.2).
 */
export class PlanarKalman {
  x: number;
  y: number;
  vx = 0;
  vy = 0;
  /** Float64Array[16], covariance, row by row. */
  readonly p = new Float64Array(16);

  /**
   * @param x, y m.
   * @param place, speed m and m/s, standard deviations at birth.
   */
  constructor(x: number, y: number, place: number, speed: number) {
    this.x = x;
    this.y = y;
    this.p[0] = place * place;
    this.p[5] = place * place;
    this.p[10] = speed * speed;
    this.p[15] = speed * speed;
  }

  /**
   * @param t s, >= 0.
   * @param density m²/s³, spectral density of the acceleration, each axis.
   */
  predict(t: number, density: number): void {
    const p = this.p;
    this.x += this.vx * t;
    this.y += this.vy * t;
    // P = F P Fᵀ with F = [I tI; 0 I]
    for (let j = 0; j < 4; j++) {
      p[j] += t * p[8 + j];
      p[4 + j] += t * p[12 + j];
    }
    for (let i = 0; i < 4; i++) {
      p[4 * i] += t * p[4 * i + 2];
      p[4 * i + 1] += t * p[4 * i + 3];
    }
    const q0 = (density * t * t * t) / 3;
    const q1 = (density * t * t) / 2;
    p[0] += q0;
    p[5] += q0;
    p[2] += q1;
    p[8] += q1;
    p[7] += q1;
    p[13] += q1;
    p[10] += density * t;
    p[15] += density * t;
  }

  /** @returns squared Mahalanobis distance of a measured place with covariance [xx, xy, yy], m². */
  distance(x: number, y: number, xx: number, xy: number, yy: number): number {
    const a = this.p[0] + xx;
    const b = this.p[1] + xy;
    const c = this.p[5] + yy;
    const dx = x - this.x;
    const dy = y - this.y;
    return (c * dx * dx - 2 * b * dx * dy + a * dy * dy) / (a * c - b * b);
  }

  /** Takes in a measured place with covariance [xx, xy, yy], m². */
  update(x: number, y: number, xx: number, xy: number, yy: number): void {
    const p = this.p;
    const a = p[0] + xx;
    const b = p[1] + xy;
    const c = p[5] + yy;
    const d = 1 / (a * c - b * b);
    const dx = x - this.x;
    const dy = y - this.y;
    const k = new Float64Array(8);
    for (let i = 0; i < 4; i++) {
      k[2 * i] = d * (p[4 * i] * c - p[4 * i + 1] * b);
      k[2 * i + 1] = d * (p[4 * i + 1] * a - p[4 * i] * b);
    }
    this.x += k[0] * dx + k[1] * dy;
    this.y += k[2] * dx + k[3] * dy;
    this.vx += k[4] * dx + k[5] * dy;
    this.vy += k[6] * dx + k[7] * dy;
    const top = p.slice(0, 8);
    for (let i = 0; i < 4; i++) {
      for (let j = 0; j < 4; j++) p[4 * i + j] -= k[2 * i] * top[j] + k[2 * i + 1] * top[4 + j];
    }
    for (let i = 0; i < 4; i++) {
      for (let j = 0; j < i; j++) {
        const mean = 0.5 * (p[4 * i + j] + p[4 * j + i]);
        p[4 * i + j] = mean;
        p[4 * j + i] = mean;
      }
    }
  }
}
