import type { Clearance, Health, Hello, SectorState } from '../../clients/typescript/src/client.js';
import type { State } from '../../src/cli/watch/view.js';
import type { Picture, Standing } from '../../src/cli/watch/words.js';

const SECTORS = 72;
/** A cart of 0.4 m by 0.32 m. */
export const OUTLINE = [
  { xM: 0.2, yM: 0.16 },
  { xM: -0.2, yM: 0.16 },
  { xM: -0.2, yM: -0.16 },
  { xM: 0.2, yM: -0.16 },
];

/** What a bearing (rad, counter-clockwise from ahead, in [-pi, pi)) shows. */
export type Around = (bearing: number) => { readonly state: SectorState; readonly leeway: number };

/** @returns a Clearance by what stands at the middle of each sector; nearest and age as a sensor in the middle would tell. */
export function clearanceOf(around: Around, aheadM = 0): Clearance {
  const seen = Array.from({ length: SECTORS }, (_, k) => {
    const turn = (k + 0.5) / SECTORS;
    return around(2 * Math.PI * (turn >= 0.5 ? turn - 1 : turn));
  });
  return {
    firstBearingRad: 0,
    state: seen.map(({ state }) => state),
    leewayM: seen.map(({ leeway }) => leeway),
    nearestM: seen.map(({ state, leeway }) =>
      state === 'obstacle' ? leeway + 0.2 : state === 'clear' ? Infinity : Number.NaN,
    ),
    ageS: seen.map(({ state }) => (state === 'unknown' ? Infinity : 0.09)),
    thinnestM: seen.map(() => 0.05),
    aheadM,
  };
}

export const HELLO: Hello = {
  version: '0.1.0',
  rover: 'supply cart',
  role: 'watch',
  source: 'simulated',
  outlineM: OUTLINE,
  reachM: [0.15, 12],
  stopM: 0.23,
  run: '',
};

export const HEALTH: Health = {
  state: 'ok',
  spinHz: 10,
  echoesPerS: 1980,
  validShare: 0.981,
  receivedBytes: 1000,
  skippedBytes: 0,
  badChecks: 0,
  blindBeyondOutlineM: 0,
  findings: [],
};

/** Ahead of the cart benches at 2 m, in its way one at 1.2 m that is too narrow for the plan, on its left nothing is known, on its right and behind nothing stands within 3 m. */
export const AISLE = clearanceOf((bearing) => {
  if (Math.abs(bearing) < Math.PI / 4) return { state: 'obstacle', leeway: 2 };
  return bearing > 0 && bearing < (3 * Math.PI) / 4 ? { state: 'unknown', leeway: 0 } : { state: 'clear', leeway: 3 };
}, 1.2);

/** @returns a state as in the aisle, connected and sound, but for what is given. */
export function stateOf(given: {
  readonly picture?: Partial<Picture>;
  readonly standing?: Partial<Standing>;
  readonly state?: Partial<State>;
}): State {
  return {
    picture: {
      ...{ hello: HELLO, clearance: AISLE, health: HEALTH, shapes: undefined, movers: undefined, motion: undefined },
      ...{ towards: [1.2, 0, 0, 0, 3, 3, 3, 2], age: 0.062 },
      ...given.picture,
    },
    standing: {
      ...{ trust: 'sound', since: new Date(2026, 3, 1, 12, 3, 4), now: new Date(2026, 3, 1, 12, 3, 14) },
      ...{ host: '192.0.2.7:5339', wasHeard: true, silence: 0.03, retryIn: 0, refusal: undefined },
      ...given.standing,
    },
    ...{ frozenAt: undefined, radius: 4, isHelp: false, look: { isUnicode: true, hasColour: false } },
    ...given.state,
  };
}
