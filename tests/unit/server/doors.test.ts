import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { chooseFormat, Doors } from '../../../src/server/doors.js';

const sha256 = (text: string): string => createHash('sha256').update(text).digest('hex');
const OPEN = { tokens: [], names: ['Rover.local'], clientsMax: 8 };
const LOCKED = {
  ...OPEN,
  tokens: [
    { role: 'watch', sha256: sha256('see') },
    { role: 'admin', sha256: sha256('grüße').toUpperCase() },
  ],
} as const;

// Host as in RFC 9110, 7.2 and RFC 3986, 3.2.2; what is let in: contract, "HTTP and WebSocket".
describe('host', () => {
  const doors = new Doors(OPEN);
  test.each([
    '127.0.0.1',
    '127.0.0.1:5339',
    '192.168.1.20:5339',
    '[::1]',
    '[::1]:5339',
    'localhost',
    'LOCALHOST:5339',
    'rover.local',
    'ROVER.local:80',
  ])('%s is let in', (host) => {
    expect(() => doors.checkHost({ host })).not.toThrow();
  });
  test.each([
    'evil.example',
    'rover.local.evil.example',
    '127.0.0.1.evil.example',
    'localhost.',
    '::1',
    '',
    '[evil]',
    '127.1',
    'a b',
  ])('"%s" is not', (host) => {
    expect(() => doors.checkHost({ host })).toThrow('[HOST_FOREIGN]');
  });
  test('none is not let in', () => {
    expect(() => doors.checkHost({})).toThrow('[HOST_FOREIGN]');
  });
});

// Origin as in RFC 6454, 6.2: scheme, host, and port where it is not the scheme's own; "null" for a page without one.
describe('origin', () => {
  const doors = new Doors(OPEN);
  test.each([
    ['127.0.0.1:5339', 'http://127.0.0.1:5339'],
    ['127.0.0.1:5339', 'https://127.0.0.1:5339'],
    ['rover.local:80', 'http://rover.local'],
    ['Rover.local', 'http://rover.local'],
    ['[::1]:5339', 'http://[::1]:5339'],
    ['127.0.0.1:5339', undefined],
  ])('host %s, origin %s: own', (host, origin) => {
    expect(() => doors.checkOrigin({ host, ...(origin === undefined ? {} : { origin }) })).not.toThrow();
  });
  test.each([
    ['127.0.0.1:5339', 'http://evil.example'],
    ['127.0.0.1:5339', 'http://127.0.0.1:8080'],
    ['127.0.0.1:5339', 'http://127.0.0.1'],
    ['127.0.0.1:5339', 'http://localhost:5339'],
    ['127.0.0.1:5339', 'ftp://127.0.0.1:5339'],
    ['127.0.0.1:5339', 'null'],
    ['127.0.0.1:5339', ''],
  ])('host %s, origin %s: foreign', (host, origin) => {
    expect(() => doors.checkOrigin({ host, origin })).toThrow('[ORIGIN_FOREIGN]');
  });
});

describe('role', () => {
  // the carrier's text is base64url without padding, RFC 4648, 5
  const carried = (token: string): Record<string, string> => ({
    'sec-websocket-protocol': `leeway.v1.json, leeway.token.${Buffer.from(token).toString('base64url')}`,
  });

  test.each(['127.0.0.1', '127.8.8.8', '::1', '::ffff:127.0.0.1'])('without tokens %s may do everything', (remote) => {
    expect(new Doors(OPEN).roleOf({}, remote)).toBe('admin');
  });
  test.each(['192.168.1.9', '::ffff:10.0.0.1', '127.0.0.1.evil', ''])(
    'without tokens "%s" may do nothing',
    (remote) => {
      expect(() => new Doors(OPEN).roleOf({}, remote)).toThrow('[TOKEN_WRONG]');
    },
  );
  test('a token gives its role, from a program or from a browser, on this machine too', () => {
    const doors = new Doors(LOCKED);
    expect(doors.roleOf({ authorization: 'Bearer see' }, '127.0.0.1')).toBe('watch');
    expect(doors.roleOf({ authorization: 'bearer  grüße' }, '10.0.0.1')).toBe('admin');
    expect(doors.roleOf(carried('see'), '10.0.0.1')).toBe('watch');
    expect(doors.roleOf(carried('grüße'), '10.0.0.1')).toBe('admin');
  });
  test.each([
    {},
    { authorization: 'Bearer' },
    { authorization: 'Bearer no' },
    { authorization: 'Basic see' },
    carried('no'),
    carried(''),
  ])('%o gives none', (headers) => {
    expect(() => new Doors(LOCKED).roleOf(headers, '127.0.0.1')).toThrow('[TOKEN_WRONG]');
  });
});

describe('subprotocol', () => {
  const token = 'leeway.token.c2Vl';
  test.each([
    [undefined, undefined, 'proto'],
    ['leeway.v1.proto', 'leeway.v1.proto', 'proto'],
    ['leeway.v1.json', 'leeway.v1.json', 'json'],
    ['other, leeway.v1.json,leeway.v1.proto', 'leeway.v1.json', 'json'],
    [`${token}, leeway.v1.json`, 'leeway.v1.json', 'json'],
    [token, undefined, 'proto'],
  ])('%s: %s', (offered, name, format) => {
    const headers = offered === undefined ? {} : { 'sec-websocket-protocol': offered };
    expect(chooseFormat(headers)).toEqual(name === undefined ? { format } : { name, format });
  });
  test.each(['other', 'leeway.v2.proto', `other, ${token}`, 'toString', 'LEEWAY.V1.PROTO'])(
    '%s: none known',
    (offered) => {
      expect(() => chooseFormat({ 'sec-websocket-protocol': offered })).toThrow('[SUBPROTOCOL_UNKNOWN]');
    },
  );
});
