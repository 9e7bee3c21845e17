// Expected texts: ProtoJSON format, protobuf.dev/programming-guides/json, and the contract's rules where it is stricter.
import { describe, expect, test } from 'vitest';
import { encodeJson, encodeProto, readClientMessage } from '../../../src/messages/codec.js';
import { leeway } from '../../../src/messages/gen/leeway.js';

describe('writing', () => {
  test('a Clearance: names, zeros, NaN, infinities, enums by name, counts as text, empty lists', () => {
    const text = encodeJson({
      sequence: 2 ** 32,
      timeS: 1764029395.25,
      clearance: { state: [1, 3], leewayM: [0, 0.1], nearestM: [NaN, Infinity], ageS: [-Infinity, 1e-7] },
    });
    expect(text).toBe(
      '{"sequence":"4294967296","timeS":1764029395.25,"sentS":0,"clearance":{"firstBearingRad":0,' +
        '"state":["SECTOR_STATE_UNKNOWN","SECTOR_STATE_OBSTACLE"],"leewayM":[0,0.1],"nearestM":["NaN","Infinity"],' +
        '"ageS":["-Infinity",1e-7],"thinnestM":[],"aheadM":0}}',
    );
  });

  test('an optional number is left out when absent and written when 0', () => {
    const health = { findings: [{ code: 'A' }, { code: 'B', fromRad: 0, toRad: -1 }] };
    const { findings } = JSON.parse(encodeJson({ health })).health;
    expect(findings).toEqual([
      { code: 'A', what: '', remedy: '', sinceS: 0 },
      { code: 'B', what: '', remedy: '', sinceS: 0, fromRad: 0, toRad: -1 },
    ]);
  });

  // IEEE 754 binary32 neighbours; shortest decimals as in the C and Java libraries of protobuf
  test.each([
    { single: Math.fround(0.1), text: '0.1' },
    { single: Math.fround(Math.PI), text: '3.1415927' },
    { single: 16777216, text: '16777216' },
    { single: 3.4028234663852886e38, text: '3.4028235e+38' },
    { single: 1.401298464324817e-45, text: '1.4013e-45' },
  ])('the 32-bit float $single is written $text', ({ single, text }) => {
    expect(encodeJson({ clearance: { aheadM: single } })).toContain(`"aheadM":${text}}`);
  });

  test('every count up to 2^53 - 1 comes out of the bytes as a plain number', () => {
    const read = leeway.v1.ServerMessage.decode(
      encodeProto({ sequence: Number.MAX_SAFE_INTEGER, health: { badChecks: 2 ** 40 } }),
    );
    expect(read.sequence).toBe(Number.MAX_SAFE_INTEGER);
    expect(read.health?.badChecks).toBe(2 ** 40);
    expect(read.health?.skippedBytes).toBe(0); // absent: also plain
  });
});

describe('reading', () => {
  const unreadable = expect.objectContaining({ code: 'MESSAGE_UNREADABLE' });
  const unknown = expect.objectContaining({ code: 'ENUM_UNKNOWN' });

  test.each([
    '{"subscribe":{"wants":[{"feed":"FEED_CLEARANCE","maxRateHz":2.5}]}}',
    '{"subscribe":{"wants":[{"feed":2,"max_rate_hz":"2.5"}]}}',
  ])('names of either kind, enums by name or number, numbers as text: %s', (text) => {
    expect(readClientMessage('json', text)).toEqual({ subscribe: { wants: [{ feed: 2, maxRateHz: 2.5 }] } });
  });

  test('an absent rate stays absent', () => {
    const { subscribe } = readClientMessage('json', '{"subscribe":{"wants":[{"feed":"FEED_SWEEP"}]}}');
    expect(subscribe?.wants?.[0]).not.toHaveProperty('maxRateHz');
  });

  test('a 32-bit float is the same number from both forms', () => {
    const bytes = leeway.v1.ClientMessage.encode({ drive: { vxMps: 0.1, turnRadps: -0.3 } }).finish();
    const fromJson = readClientMessage('json', '{"drive":{"vxMps":0.1,"turnRadps":-0.3}}').drive;
    const fromProto = readClientMessage('proto', bytes).drive;
    expect(fromJson?.vxMps).toBe(fromProto?.vxMps);
    expect(fromJson?.turnRadps).toBe(fromProto?.turnRadps);
  });

  test.each(['"FEED_CLEARENCE"', '99', '-1', '1.5', 'true', '"2x"'])('a feed that is not known: %s', (feed) => {
    expect(() => readClientMessage('json', `{"subscribe":{"wants":[{"feed":${feed}}]}}`)).toThrow(unknown);
  });

  test('a feed number that is not known, in bytes', () => {
    const bytes = leeway.v1.ClientMessage.encode({ subscribe: { wants: [{ feed: 99 as never }] } }).finish();
    expect(() => readClientMessage('proto', bytes)).toThrow(unknown);
  });

  // stricter than python3-protobuf, which lets these pass
  test.each([
    '{"drive":{"vxMps":true}}',
    '{"drive":{"vxMps":1,"vx_mps":2}}',
    '{"drive":{"vxMps":"1e400"}}',
    '{"drive":{"vxMps":" 1"}}',
    '{"subscribe":[]}',
    '[]',
  ])('refused: %s', (text) => {
    expect(() => readClientMessage('json', text)).toThrow(unreadable);
  });

  test('the largest 32-bit float is read as other programs write it', () => {
    expect(readClientMessage('json', '{"drive":{"vxMps":3.4028235e+38}}').drive?.vxMps).toBe(3.4028234663852886e38);
  });

  test('of several members of the oneof in bytes the last counts', () => {
    const mark = leeway.v1.ClientMessage.encode({ mark: { text: 'a' } }).finish();
    const drive = leeway.v1.ClientMessage.encode({ drive: { vxMps: 1 } }).finish();
    expect(Object.keys(readClientMessage('proto', Buffer.concat([mark, drive])))).toEqual(['drive']);
  });

  test('a field number of a later version is passed over in bytes', () => {
    const mark = leeway.v1.ClientMessage.encode({ mark: { text: 'a' } }).finish();
    const later = Uint8Array.of(0xaa, 0x06, 0x01, 0x00); // field 101, one byte
    expect(readClientMessage('proto', Buffer.concat([mark, later])).mark?.text).toBe('a');
  });

  test('bytes where text was agreed, and the other way round', () => {
    expect(() => readClientMessage('json', Uint8Array.of(0x7b, 0x7d))).toThrow(unreadable);
    expect(() => readClientMessage('proto', '{}')).toThrow(unreadable);
  });

  test('text that is no UTF-8', () => {
    expect(() => readClientMessage('proto', Uint8Array.of(0x1a, 0x03, 0x0a, 0x01, 0xff))).toThrow(unreadable);
  });

  test('a message nested without end', () => {
    expect(() => readClientMessage('json', '[{"subscribe":'.repeat(20_000))).toThrow(unreadable);
    expect(() => readClientMessage('json', `{"subscribe":${'['.repeat(20_000)}${']'.repeat(20_000)}}`)).toThrow(
      unreadable,
    );
  });
});
