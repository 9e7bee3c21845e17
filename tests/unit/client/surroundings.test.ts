// What the client makes of the feeds that tell of things around: every field there, unknown kinds told as such.
import { expect, test } from 'vitest';
import { readServerMessage } from '../../../clients/typescript/src/client.js';
import { encodeProto, type ServerMessage } from '../../../src/messages/codec.js';

const read = (body: Partial<ServerMessage>) =>
  readServerMessage(encodeProto({ sequence: 3, timeS: 10, sentS: 10.5, ...body }));

test('shapes', () => {
  const wall = { normalRad: 0.5, distanceM: 2, x1M: 1, y1M: 2, x2M: 3, y2M: 4, roughnessM: 0.25, echoes: 30 };
  const { shapes } = read({
    shapes: {
      sweep: 7,
      walls: [{ ...wall, distanceVar: 0.25, crossCov: 0.125, normalVar: 0.5 }],
      corners: [{ xM: 1, yM: -1, angleRad: 1.5, angleSdRad: 0.25, kind: 2 }, { kind: 0 }],
      openings: [{ x1M: 1, y1M: 0.5, x2M: 1, y2M: -0.5, widthM: 1, widthSdM: 0.125 }],
      posts: [{ xM: 0.5, radiusM: 0.03125, radiusSdM: 0.5 }],
    },
  });
  expect(shapes).toEqual({
    sweep: 7,
    walls: [{ ...wall, distanceVar: 0.25, crossCov: 0.125, normalVar: 0.5 }],
    corners: [
      { xM: 1, yM: -1, angleRad: 1.5, angleSdRad: 0.25, kind: 'outer' },
      { xM: 0, yM: 0, angleRad: 0, angleSdRad: 0, kind: undefined },
    ],
    openings: [{ x1M: 1, y1M: 0.5, x2M: 1, y2M: -0.5, widthM: 1, widthSdM: 0.125 }],
    posts: [{ xM: 0.5, yM: 0, radiusM: 0.03125, radiusSdM: 0.5 }],
  });
});

test('movers and motion', () => {
  const mover = {
    id: 4,
    xM: 1,
    yM: 2,
    vxMps: -0.5,
    vyMps: 0.25,
    widthM: 0.5,
    ageS: 2,
    confidence: 0.75,
    closestM: 0.25,
    closestInS: 3,
  };
  expect(read({ movers: { sweep: 8, movers: [mover] } }).movers).toEqual({ sweep: 8, movers: [mover] });
  expect(read({ movers: {} }).movers).toEqual({ sweep: 0, movers: [] });
  const motion = { xM: 1, yM: 2, headingRad: 0.5, vxMps: 0.25, vyMps: 0, turnRadps: -0.5, quality: 1 };
  expect(read({ motion }).motion).toEqual(motion);
});
