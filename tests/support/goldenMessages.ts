import { Feed } from '../../src/messages/codec.js';

/** The messages of clients/golden, by file name. Numbers are exact in a 32-bit float or say so by their digits. */
export const GOLDEN: Readonly<
  Record<string, { readonly type: 'ServerMessage' | 'ClientMessage'; readonly message: object }>
> = {
  hello: {
    type: 'ServerMessage',
    message: {
      ...{ sequence: 0, timeS: 1767225600.25, sentS: 1767225600.25 },
      hello: {
        ...{ version: '0.1.0', rover: 'supply cart 2', role: 'drive', source: 'serial', stopM: 0.225, run: '' },
        outlineM: [
          { xM: 0.25, yM: 0.1875 },
          { xM: -0.25, yM: 0.1875 },
          { xM: -0.25, yM: -0.1875 },
          { xM: 0.25, yM: -0.1875 },
        ],
        reachM: [0.15, 12],
      },
    },
  },
  clearance: {
    type: 'ServerMessage',
    message: {
      ...{ sequence: 9007199254740991, timeS: 1767225600.5, sentS: 1767225600.53125 }, // the largest whole number that every client can hold
      clearance: {
        firstBearingRad: -0.125,
        state: [3, 3, 2, 1, 1, 0, 2, 3], // obstacle, obstacle, clear, unknown, unknown, unspecified: read as unknown, clear, obstacle
        leewayM: [1.5, 2.25, 11.75, 0, 0, 0, 11.75, 0.0625],
        nearestM: [1.75, 2.5, Infinity, NaN, 0.5, NaN, Infinity, 0.25],
        ageS: [0.0625, 0.125, 0.125, Infinity, 0.5, Infinity, 0.03125, 0.015625],
        thinnestM: [0.0625, 0.0625, 0.5, 0, 0, 0, 0.5, 0.015625],
        aheadM: 0.0625,
      },
    },
  },
  health: {
    type: 'ServerMessage',
    message: {
      ...{ sequence: 12, timeS: 1767225601, sentS: 1767225601.125 },
      health: {
        ...{ state: 2, spinHz: 9.875, echoesPerS: 1900, validShare: NaN, blindBeyondOutlineM: 0.03125 },
        ...{ receivedBytes: 4294967296123, skippedBytes: 0, badChecks: 3 },
        findings: [
          {
            code: 'BYTES_SKIPPED',
            what: 'many bytes of the sensor could not be read',
            remedy: 'Check the cable.',
            sinceS: 1767225590.5,
          },
          { code: 'SPIN_SLOW', what: 'Grüße · 遅い', remedy: 'Wipe.', sinceS: 1767225591, fromRad: -0.5, toRad: 0.25 },
        ],
      },
    },
  },
  sweep: {
    type: 'ServerMessage',
    message: {
      ...{ sequence: 77, timeS: 1767225602.0625, sentS: 1767225602.078125 },
      sweep: {
        ...{ number: 4294967295, firstTimeS: 1767225601.96875, periodS: 0.09375 },
        bearingRad: [0.5, 0.25, 0, -0.25],
        rangeMm: [1234, 0, 12000, 150],
        strength: [47, 0, 15, 4294967295],
      },
    },
  },
  subscribe: {
    type: 'ClientMessage',
    message: { subscribe: { wants: [{ feed: Feed.FEED_CLEARANCE }, { feed: Feed.FEED_SWEEP, maxRateHz: 2.5 }] } },
  },
  odometry: {
    type: 'ClientMessage',
    message: { odometry: { timeS: 0, xM: 1.5, yM: -0.25, headingRad: 3.125 } },
  },
};
