import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { loadConfig } from '../../../src/config/load.js';
import { everyKey } from '../../../src/config/schema.js';
import { Fault, type FaultCode } from '../../../src/core/fault.js';

const folder = mkdtempSync(join(tmpdir(), 'leeway-config-'));
afterAll(() => rmSync(folder, { recursive: true }));

function file(text: string | Uint8Array): string {
  const path = join(folder, 'rover.yaml');
  writeFileSync(path, text);
  return path;
}

function faultOf(act: () => unknown): Fault {
  try {
    act();
  } catch (error) {
    if (error instanceof Fault) return error;
    throw error;
  }
  throw new Error('nothing was thrown');
}

/** The block of the project's contract, section "Configuration", word for word. */
const CONTRACT = `
sensor:
  source: serial            # serial | run | simulated (default)
  port: /dev/ttyUSB0
  baud: 115200
  layout: sample5           # a built-in layout, or the path of a layout file
  mount: { x_m: 0, y_m: 0, z_m: 0.15, yaw_rad: 0, pitch_rad: 0, roll_rad: 0, upside_down: false }
  reach_m: [0.15, 12]       # nearest and farthest range the sensor can be believed
  range: { offset_m: 0, scale: 1 }         # correction found with a tape
  masks: []                 # [{ from_rad, to_rad, up_to_m }]: the rover's own body, rover axes
rover:
  outline_m: [[0.2, 0.16], [-0.2, 0.16], [-0.2, -0.16], [0.2, -0.16]]   # polygon, rover axes
  speed_max_mps: 0.5        # what the rover can do: evidence ages by it while its motion is not known
  turn_max_radps: 1.0
  brake_mps2: 1.0           # with reaction_s gives the stopping distance v t + v^2 / (2 a)
  reaction_s: 0.2
  name: rover
server:
  host: 127.0.0.1
  port: 5339
  tokens: []                # [{ role: watch | drive | admin, sha256: HEX }]; needed as soon as host is not loopback
  names: []                 # host names under which the page may be opened
  clients_max: 256
clearance:
  sectors: 72
  no_return: unknown        # unknown | clear: what a sample received without an echo means
  no_return_m: 3            # with clear: how far such a sample vouches
  urgent_m: 2
runs:
  folder: runs              # relative to the configuration file's folder, else to the working folder
  record: false
`;

describe('the defaults', () => {
  test('are those of the contract', () => {
    const contract = loadConfig(file(CONTRACT));
    const plain = loadConfig();
    expect(contract.sensor).toMatchObject({ source: 'serial', port: '/dev/ttyUSB0', baud: 115200 });
    expect(plain.sensor).toMatchObject({ source: 'simulated', port: undefined, baud: undefined });
    const { source, port, baud } = plain.sensor;
    expect({ ...contract, sensor: { ...contract.sensor, source, port, baud }, runs: plain.runs }).toEqual(plain);
  });
  test('keep runs beside the file, without a file in the working folder', () => {
    expect(loadConfig(file(CONTRACT)).runs.folder).toBe(join(folder, 'runs'));
    expect(loadConfig().runs.folder).toBe(resolve('runs'));
    expect(loadConfig(file('sensor: { layout: ./my.yaml }')).sensor.layout).toBe(join(folder, 'my.yaml'));
  });
  test('stand where the file is empty or a section is', () => {
    expect(loadConfig(file('')).server.port).toBe(5339);
    expect(loadConfig(file('# nothing\nserver:\n')).server.port).toBe(5339);
  });
  test('are frozen', () => {
    const config = loadConfig();
    expect(
      Object.isFrozen(config) && Object.isFrozen(config.sensor.mount) && Object.isFrozen(config.rover.outline[0]),
    ).toBe(true);
  });
});

test('values reach the SI names', () => {
  const config = loadConfig(
    file(`sensor: { mount: { yaw_rad: 0.5, upside_down: true }, masks: [{ from_rad: 3, to_rad: 3.2, up_to_m: 0.3 }] }
rover: { brake_mps2: 2 }
server: { host: 0.0.0.0, port: 0, tokens: [{ role: watch, sha256: "${'AB'.repeat(32)}" }], names: [Cart.local] }
clearance: { no_return: clear, no_return_m: 4 }`),
  );
  expect(config.sensor.mount).toEqual({ x: 0, y: 0, z: 0.15, yaw: 0.5, pitch: 0, roll: 0, upsideDown: true });
  expect(config.sensor.masks).toEqual([{ from: 3, to: 3.2, upTo: 0.3 }]);
  expect(config.rover.brake).toBe(2);
  expect(config.server).toMatchObject({
    port: 0,
    tokens: [{ role: 'watch', sha256: 'ab'.repeat(32) }],
    names: ['cart.local'],
  });
  expect(config.clearance).toMatchObject({ noReturn: 'clear', noReturnReach: 4 });
});

test('--set lies over the file, a later one over an earlier one', () => {
  const config = loadConfig(file('server: { port: 1, clients_max: 7 }'), [
    'server.port=2',
    'server.port=3',
    'sensor.reach_m=[0.2, 8]',
    'rover.name="a=b"',
  ]);
  expect(config.server).toMatchObject({ port: 3, clientsMax: 7 });
  expect(config.sensor.reach).toEqual([0.2, 8]);
  expect(config.rover.name).toBe('a=b');
});

describe('an unknown key', () => {
  test.each([
    { yaml: 'sensor:\n  source: simulated\n  prot: x', key: 'sensor.prot', line: 3, nearest: 'sensor.port' },
    { yaml: 'sensors: {}', key: 'sensors', line: 1, nearest: 'sensor' },
    { yaml: '# cart\nspeed_max_mps: 1', key: 'speed_max_mps', line: 2, nearest: 'rover.speed_max_mps' },
    {
      yaml: 'sensor:\n  mount:\n    yaw_deg: 3',
      key: 'sensor.mount.yaw_deg',
      line: 3,
      nearest: 'sensor.mount.yaw_rad',
    },
    {
      yaml: 'sensor:\n  masks:\n  - from_rad: 1\n    to_rad: 2\n    upto_m: 1',
      key: 'sensor.masks[0].upto_m',
      line: 5,
      nearest: 'sensor.masks.up_to_m',
    },
  ])('$key', ({ yaml, key, line, nearest }) => {
    const fault = faultOf(() => loadConfig(file(yaml)));
    expect(fault.code).toBe('CONFIG_KEY_UNKNOWN');
    expect(fault.facts).toMatchObject({ key, line, nearest });
  });
  test.each(['__proto__', 'toString', 'constructor'])('that every object has: %s', (key) => {
    expect(faultOf(() => loadConfig(file(`rover: { ${key}: { name: x } }`)))).toMatchObject({
      code: 'CONFIG_KEY_UNKNOWN',
      facts: { key: `rover.${key}`, line: 1 },
    });
  });
  test('of --set', () => {
    const fault = faultOf(() => loadConfig(undefined, ['server.prot=1']));
    expect(fault).toMatchObject({
      code: 'CONFIG_KEY_UNKNOWN',
      facts: { key: 'server.prot', nearest: 'server.port', argument: '--set server.prot=1' },
    });
  });
});

describe('bad YAML names line and column', () => {
  test.each([
    { name: 'a tab', yaml: 'sensor:\n\tport: x', line: 2, column: 1 },
    { name: 'an open bracket', yaml: 'rover:\n  outline_m: [[1, 2]\n  name: x', line: 3, column: 3 },
    { name: 'a key twice', yaml: 'server:\n  port: 1\n  port: 2', line: 3, column: 3 },
    { name: 'two documents', yaml: 'server: {}\n---\nserver: {}', line: 2, column: 1 },
  ])('$name', ({ yaml, line, column }) => {
    expect(faultOf(() => loadConfig(file(yaml)))).toMatchObject({ code: 'CONFIG_YAML_BAD', facts: { line, column } });
  });
  test('an alias without an anchor, and aliases that would fill the memory', () => {
    expect(faultOf(() => loadConfig(file('rover: *cart'))).code).toBe('CONFIG_YAML_BAD');
    const bomb = [
      'a: &a [x,x,x,x,x,x,x,x,x]',
      ...'bcdefgh'.split('').map((k, i) => `${k}: &${k} [${`*${'abcdefg'[i]},`.repeat(9)}]`),
    ];
    expect(faultOf(() => loadConfig(file(bomb.join('\n')))).code).toBe('CONFIG_YAML_BAD');
  });
});

describe('a value out of its limits', () => {
  test.each([
    ['server.port', '65536'],
    ['server.port', '-1'],
    ['server.port', '80.5'],
    ['server.port', '"80"'],
    ['server.port', ''],
    ['server.host', '[]'],
    ['server.clients_max', '0'],
    ['server.tokens[0].sha256', '[{ role: watch, sha256: abc }]'],
    ['server.tokens[0].role', `[{ role: owner, sha256: "${'a'.repeat(64)}" }]`],
    ['server.tokens[0].role', `[{ sha256: "${'a'.repeat(64)}" }]`],
    ['sensor.source', 'usb'],
    ['sensor.source', 'serial'],
    ['sensor.mount.upside_down', 'yes'],
    ['sensor.mount.yaw_rad', '.nan'],
    ['sensor.mount.x_m', '.inf'],
    ['sensor.mount', '3'],
    ['sensor.reach_m', '[1]'],
    ['sensor.reach_m', '[12, 0.15]'],
    ['sensor.reach_m', '[2, 2]'],
    ['sensor.range.scale', '0'],
    ['sensor.masks[0].to_rad', '[{ from_rad: 1, up_to_m: 1 }]'],
    ['sensor.masks[0]', '[{ from_rad: 1, to_rad: 1, up_to_m: 1 }]'],
    ['sensor.masks[0]', '[{ from_rad: -4, to_rad: 4, up_to_m: 1 }]'],
    ['clearance.sectors', '7'],
    ['clearance.sectors', '361'],
    ['rover.brake_mps2', '0'],
    ['rover.name', '""'],
    ['rover.outline_m', '[[1, 1], [-1, 0]]'],
    ['rover.outline_m[1]', '[[1, 1], [-1], [1, -1]]'],
  ])('%s: %s', (key, value) => {
    const path = key.replace(/\[.*/, '');
    const fault = faultOf(() => loadConfig(undefined, [`${path}=${value}`]));
    expect(fault.code).toBe('CONFIG_VALUE_BAD');
    expect(fault.facts.key).toBe(key === 'sensor.source' && value === 'serial' ? 'sensor.port' : key);
    expect(fault.facts.limits).toBeTruthy();
  });
  test('names value, limits, file and line', () => {
    expect(faultOf(() => loadConfig(file('rover:\n  name: cart\n  brake_mps2: -1'))).facts).toEqual({
      key: 'rover.brake_mps2',
      value: '-1',
      limits: 'a number, 0.01 to 50 m/s^2',
      file: join(folder, 'rover.yaml'),
      line: 3,
    });
  });
});

describe('the outline', () => {
  const set = (points: string): string => `rover.outline_m=${points}`;
  test.each([
    { name: 'clockwise', points: '[[1,1],[1,-1],[-1,-1],[-1,1]]' },
    { name: 'notched', points: '[[1,1],[-1,1],[-1,-1],[1,-1],[0.5,0]]' },
    { name: 'with a corner in the middle of an edge', points: '[[1,1],[0,1],[-1,1],[-1,-1],[1,-1]]' },
  ])('may be $name', ({ points }) => {
    expect(loadConfig(undefined, [set(points)]).rover.outline.length).toBeGreaterThan(3);
  });
  test.each([
    { name: 'an hourglass', points: '[[1,1],[-1,-1],[-1,1],[1,-1]]' },
    { name: 'the origin outside', points: '[[3,1],[1,1],[1,-1],[3,-1]]' },
    { name: 'the origin on an edge', points: '[[1,1],[0,1],[0,-1],[1,-1]]' },
    { name: 'the origin in a corner', points: '[[1,0],[0,1],[0,0]]' },
    { name: 'all on one line', points: '[[1,1],[0,0],[-1,-1]]' },
    { name: 'a corner twice', points: '[[1,1],[1,1],[-1,0],[1,-1]]' },
    { name: 'a spike that runs back', points: '[[1,1],[-1,1],[-3,1],[-1,1],[-1,-1],[1,-1]]' },
    { name: 'edges that touch', points: '[[1,1],[-1,1],[-1,-1],[1,-1],[0.5,-0.5],[-1,0.5],[0.8,0.5]]' },
    {
      name: '65 corners',
      points: JSON.stringify(
        Array.from({ length: 65 }, (_, i) => [Math.cos((i * 2 * Math.PI) / 65), Math.sin((i * 2 * Math.PI) / 65)]),
      ),
    },
  ])('must not be $name', ({ points }) => {
    expect(faultOf(() => loadConfig(undefined, [set(points)])).code).toBe('CONFIG_VALUE_BAD');
  });
});

describe('the host', () => {
  test.each(['127.0.0.1', '127.8.8.8', '::1', 'localhost'])('%s needs no tokens', (host) => {
    expect(loadConfig(undefined, [`server.host="${host}"`]).server.host).toBe(host);
  });
  test.each(['0.0.0.0', '::', '192.168.1.4', 'cart.local', '128.0.0.1'])('%s needs tokens', (host) => {
    expect(faultOf(() => loadConfig(undefined, [`server.host="${host}"`])).code).toBe('TOKENS_NEEDED');
  });
});

test.each<[string, string[], FaultCode]>([
  ['no file', [], 'CONFIG_UNREADABLE'],
  ['a set without =', ['server.port'], 'USAGE_WRONG'],
  ['a set without key', ['=3'], 'USAGE_WRONG'],
  ['a set of bad YAML', ['server.names=[a'], 'CONFIG_YAML_BAD'],
])('%s', (_, sets, code) => {
  expect(
    faultOf(() => loadConfig(code === 'CONFIG_UNREADABLE' ? join(folder, 'none.yaml') : undefined, sets)).code,
  ).toBe(code);
});

test('a folder and bytes that are not text cannot be read', () => {
  expect(faultOf(() => loadConfig(folder)).code).toBe('CONFIG_UNREADABLE');
  expect(faultOf(() => loadConfig(file(Uint8Array.of(0xff, 0xfe, 0x00)))).code).toBe('CONFIG_UNREADABLE');
});

test('deploy/example.yaml loads, names every key, and keeps the defaults but for the name', () => {
  const path = resolve('deploy/example.yaml');
  const config = loadConfig(path);
  const plain = loadConfig();
  expect({
    ...config,
    rover: { ...config.rover, name: 'rover' },
    sensor: { ...config.sensor, port: undefined, baud: undefined },
  }).toEqual({
    ...plain,
    runs: { ...plain.runs, folder: resolve('deploy/runs') },
  });
  const text = readFileSync(path, 'utf8');
  for (const { path: key } of everyKey()) {
    const name = key.split('.').at(-1);
    expect(text, key).toMatch(new RegExp(`\\b${name}:`));
  }
});
