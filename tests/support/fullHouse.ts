import { glassHouse } from './glassHouse.js';

const HALF = [9, 6] as const; // m, half the hall's length and width

/** More than any house holds: so many echoes, walls and movers about a cart that drives slowly ahead, at a time (s). */
export function fullHouse(time: number, { echoes, walls, movers }: { echoes: number; walls: number; movers: number }) {
  const number = Math.round(time * 10);
  const { clearance, health } = glassHouse();
  const bearingRad: number[] = [];
  const rangeMm: number[] = [];
  for (let i = 0; i < echoes; i++) {
    const bearing = -Math.PI + (2 * Math.PI * i) / echoes;
    const range = Math.min(HALF[0] / Math.abs(Math.cos(bearing)), HALF[1] / Math.abs(Math.sin(bearing)));
    bearingRad.push(bearing);
    rangeMm.push(Math.round(1000 * range + 12 * Math.sin(i * 12.9898 + number)));
  }
  return {
    clearance: { ...clearance, aheadM: 3.6 - 0.4 * Math.sin(time) },
    health,
    sweep: { number, firstTimeS: time, periodS: 0.1, bearingRad, rangeMm, strength: [] },
    motion: {
      xM: 0.3 * time,
      yM: 0,
      headingRad: 0.05 * Math.sin(time / 3),
      vxMps: 0.3,
      vyMps: 0,
      turnRadps: 0,
      quality: 1,
    },
    movers: { sweep: number, movers: Array.from({ length: movers }, (_, i) => moverAt(i, time)) },
    shapes: {
      sweep: number,
      walls: Array.from({ length: walls }, (_, i) => wallAt(i, walls, time)),
      corners: Array.from({ length: 12 }, (_, i) => {
        const bearing = (i / 12) * 2 * Math.PI;
        const [xM, yM] = [7 * Math.cos(bearing), 5 * Math.sin(bearing)];
        return { xM, yM, angleRad: Math.PI / 2, angleSdRad: 0.01, kind: 1 + (i % 2) };
      }),
      openings: [{ x1M: 2, y1M: 4, x2M: 3.1, y2M: 4, widthM: 1.1, widthSdM: 0.01 }],
      posts: Array.from({ length: 16 }, (_, i) => {
        return { xM: -6 + 0.8 * i, yM: 2.2 + 0.02 * Math.sin(time + i), radiusM: 0.05, radiusSdM: 0.004, echoes: 4 };
      }),
    },
  };
}

function wallAt(i: number, count: number, time: number) {
  const normalRad = (i / count) * 2 * Math.PI;
  const distanceM = 3 + (i % 7) * 0.8 + 0.003 * Math.sin(time * 7 + i); // its figures change all the time
  const [c, s] = [Math.cos(normalRad), Math.sin(normalRad)];
  const half = 0.5 + (i % 3) * 0.4;
  return {
    ...{
      normalRad,
      distanceM,
      distanceVar: 4e-6,
      crossCov: 0,
      normalVar: 1e-6,
      roughnessM: 0.001 * (i % 20),
      echoes: 30,
    },
    ...{
      x1M: distanceM * c + half * s,
      y1M: distanceM * s - half * c,
      x2M: distanceM * c - half * s,
      y2M: distanceM * s + half * c,
    },
  };
}

function moverAt(i: number, time: number) {
  const turn = (i / 20) * 2 * Math.PI + 0.3 * time;
  const away = 2 + (i % 5);
  return {
    ...{ id: i + 1, xM: away * Math.cos(turn), yM: away * Math.sin(turn), widthM: 0.45, ageS: 5, confidence: 0.9 },
    ...{
      vxMps: -0.3 * away * Math.sin(turn),
      vyMps: 0.3 * away * Math.cos(turn),
      closestM: 0.6,
      closestInS: 1 + (i % 4),
    },
  };
}
