import type { leeway } from '../../src/messages/gen/leeway.js';

const SECTORS = 72;
const HALF = [4.4, 2.6] as const; // m, half the house's length and width
const POSTS = [
  [1.8, 1.1],
  [-1.6, 1.3],
  [1.2, -1.5],
] as const; // bench legs
const LEG = 0.06; // m

/**
 * What a cart in the middle of a small glass house would be told: brick to the left and behind, benches on legs, glass that gives
 * no echo to the front right, a door that stands open ahead. Ranges from the cart's origin; a picture to look at, not a measurement.
 */
export function glassHouse(kind: 'sound' | 'degraded' | 'blind' = 'sound') {
  const clearance = {
    firstBearingRad: 0,
    state: [],
    leewayM: [],
    nearestM: [],
    ageS: [],
    thinnestM: [],
    aheadM: 0,
  } as {
    -readonly [K in 'state' | 'leewayM' | 'nearestM' | 'ageS' | 'thinnestM']: number[];
  } & { firstBearingRad: number; aheadM: number };
  for (let k = 0; k < SECTORS; k++) {
    const middle = ((k + 0.5) / SECTORS) * 2 * Math.PI;
    const degrees = (k * 360) / SECTORS;
    const isGlass = degrees >= 300 && degrees < 345;
    const isDoor = degrees >= 355 || degrees < 5;
    const range = isDoor ? Infinity : nearest(middle);
    const state = kind === 'blind' || isGlass ? 1 : isDoor ? 2 : 3;
    clearance.state.push(state);
    clearance.nearestM.push(state === 1 ? NaN : range);
    clearance.leewayM.push(state === 1 ? 0 : Math.max(0, Math.min(range, 6) - 0.25));
    clearance.ageS.push(state === 1 ? Infinity : 0.05);
    clearance.thinnestM.push(state === 1 ? 0 : 0.03);
  }
  clearance.aheadM = kind === 'blind' ? 0 : 3.6;
  return { clearance, health: healthOf(kind) };
}

function nearest(bearing: number): number {
  const c = Math.cos(bearing);
  const s = Math.sin(bearing);
  const wall = Math.min(HALF[0] / Math.abs(c), HALF[1] / Math.abs(s));
  return Math.min(
    wall,
    ...POSTS.map(([x, y]) => {
      const away = Math.hypot(x, y);
      const off = Math.abs(Math.atan2(Math.sin(Math.atan2(y, x) - bearing), Math.cos(Math.atan2(y, x) - bearing)));
      return off < Math.PI / SECTORS + LEG / away ? away - LEG : Infinity;
    }),
  );
}

function healthOf(kind: 'sound' | 'degraded' | 'blind'): leeway.v1.Health.$Properties {
  const figures = {
    spinHz: 10.02,
    echoesPerS: 1893,
    validShare: 0.91,
    receivedBytes: 1e6,
    skippedBytes: 0,
    badChecks: 0,
  };
  const sinceS = Date.now() / 1000;
  if (kind === 'sound') return { ...figures, state: 1, findings: [] };
  if (kind === 'degraded') {
    const [what, remedy] = [
      'many bytes of the sensor could not be read',
      'Check baud rate, cable and ground; keep the cable away from the motor supply.',
    ];
    return { ...figures, state: 2, skippedBytes: 4213, findings: [{ code: 'BYTES_SKIPPED', what, remedy, sinceS }] };
  }
  const [what, remedy] = [
    'the sensor repeats one bearing: its motor does not turn',
    'Switch the sensor off and on; look for a leaf or a cord in its gap.',
  ];
  return {
    ...figures,
    state: 3,
    spinHz: 0,
    validShare: NaN,
    findings: [{ code: 'SPIN_STALLED', what, remedy, sinceS }],
  };
}
