import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readServerMessage } from '../../clients/typescript/src/client.js';
import { writeClientMessage } from '../../clients/typescript/src/messages.js';
import { leeway } from '../../src/messages/gen/leeway.js';
import { fromProtoJson, toProtoJson } from '../../src/messages/protoJson.js';
import { GOLDEN } from '../support/goldenMessages.js';
import { askPython, whyNoPython } from '../support/pythonProtobuf.js';

// clients/golden holds messages that every client must read, in both forms. GOLDEN=write makes them from tests/support.
const file = (name: string): URL => new URL(`../../clients/golden/${name}`, import.meta.url);
const bytesOf = (name: string): Uint8Array => new Uint8Array(readFileSync(file(`${name}.bin`)));
const textOf = (name: string): string => readFileSync(file(`${name}.json`), 'utf8');

if (process.env.GOLDEN === 'write') {
  for (const [name, { type, message }] of Object.entries(GOLDEN)) {
    writeFileSync(file(`${name}.bin`), leeway.v1[type].encode(message).finish());
    writeFileSync(file(`${name}.json`), `${JSON.stringify(JSON.parse(toProtoJson(type, message)), undefined, 2)}\n`);
  }
}

describe.each(Object.entries(GOLDEN))('%s', (name, { type, message }) => {
  test('the daemon writes these bytes and this text', () => {
    expect(Buffer.from(leeway.v1[type].encode(message).finish())).toEqual(readFileSync(file(`${name}.bin`)));
    expect(JSON.parse(toProtoJson(type, message))).toEqual(JSON.parse(textOf(name)));
  });

  test('both forms say the same', () => {
    const decoded = leeway.v1[type].decode(bytesOf(name));
    expect(toProtoJson(type, decoded)).toBe(toProtoJson(type, fromProtoJson(type, textOf(name))));
  });
});

const why = whyNoPython();
if (why !== undefined) console.warn(`skipped: golden messages against python3-protobuf: ${why}`);
test.skipIf(why !== undefined)('python3-protobuf reads both forms and means the same', () => {
  const names = Object.keys(GOLDEN);
  const fromBytes = askPython(names.map((name) => ({ type: GOLDEN[name].type, proto: bytesOf(name) })));
  const fromText = askPython(names.map((name) => ({ type: GOLDEN[name].type, json: textOf(name) })));
  expect(fromBytes).toEqual(fromText);
  for (const answer of fromBytes) expect(answer).not.toHaveProperty('error');
});

// The client's own words for what the files hold, by hand.
describe('the TypeScript client', () => {
  test('reads hello', () => {
    const { hello, sequence } = readServerMessage(bytesOf('hello'));
    expect(sequence).toBe(0);
    expect(hello).toMatchObject({ rover: 'supply cart 2', role: 'drive', stopM: Math.fround(0.225), run: '' });
    expect(hello?.outlineM[1]).toEqual({ xM: -0.25, yM: 0.1875 });
    expect(hello?.reachM).toEqual([Math.fround(0.15), 12]);
  });

  test('reads clearance: what it does not know is unknown, what is missing stays missing', () => {
    const { clearance, sequence, timeS, sentS } = readServerMessage(bytesOf('clearance'));
    expect([sequence, timeS, sentS]).toEqual([9007199254740991, 1767225600.5, 1767225600.53125]);
    expect(clearance?.state).toEqual([
      'obstacle',
      'obstacle',
      'clear',
      'unknown',
      'unknown',
      'unknown',
      'clear',
      'obstacle',
    ]);
    expect(clearance?.nearestM).toEqual([1.75, 2.5, Infinity, NaN, 0.5, NaN, Infinity, 0.25]);
    expect(clearance?.ageS[3]).toBe(Infinity);
    expect(clearance?.aheadM).toBe(0.0625);
  });

  test('reads health: counters beyond 32 bits, not measured is NaN', () => {
    const { health } = readServerMessage(bytesOf('health'));
    expect(health).toMatchObject({ state: 'degraded', receivedBytes: 4294967296123, badChecks: 3, validShare: NaN });
    expect(health?.findings[1]).toMatchObject({ what: 'Grüße · 遅い', sinceS: 1767225591 });
  });

  test('reads a sweep', () => {
    const { sweep } = readServerMessage(bytesOf('sweep'));
    expect(sweep).toMatchObject({
      number: 4294967295,
      rangeMm: [1234, 0, 12000, 150],
      bearingRad: [0.5, 0.25, 0, -0.25],
    });
  });

  test('writes what a client says', () => {
    for (const name of ['subscribe', 'odometry']) {
      expect(Buffer.from(writeClientMessage(GOLDEN[name].message))).toEqual(readFileSync(file(`${name}.bin`)));
    }
  });

  test('a message of a kind it does not know is empty, an enum value it does not know is the worst', () => {
    const varint = (field: number, value: number): number[] => [field << 3, value]; // protobuf.dev/programming-guides/encoding
    expect(readServerMessage(Uint8Array.from([...varint(1, 5), 0x7a, 0x00]))).toEqual({
      sequence: 5,
      timeS: 0,
      sentS: 0,
    });
    const clearance = Uint8Array.from([0x32, 0x04, 0x12, 0x02, 0x09, 0x02]); // field 6, 4 bytes: field 2, packed: 9, 2
    expect(readServerMessage(clearance).clearance?.state).toEqual(['unknown', 'clear']);
    const health = Uint8Array.from([0x52, 0x02, ...varint(1, 9)]); // field 10: state 9
    expect(readServerMessage(health).health?.state).toBe('blind');
  });
});
