import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { stringify } from 'yaml';
import { layoutOfFile, sensorLayout } from '../../../src/cli/sensorLayout.js';
import { loadConfig } from '../../../src/config/load.js';
import { Fault } from '../../../src/core/fault.js';
import { Decoder } from '../../../src/device/decoder.js';
import { builtInLayouts, findLayout } from '../../../src/device/layouts/builtIn.js';
import { type Bits, eachOf, type Field, type Layout } from '../../../src/device/layouts/layout.js';
import { recognise } from '../../../src/device/recognise.js';
import { WireEncoder } from '../../../src/simulator/encode.js';
import { LAYOUT_NAMES } from '../../support/handStreams.js';
import { recordedRows, soundStream } from '../../support/wire.js';

const EXAMPLE = resolve('deploy/layout-example.yaml');
const deg = Math.PI / 180;
const folder = mkdtempSync(join(tmpdir(), 'leeway-'));
let files = 0;
const file = (text: string): string => {
  const path = join(folder, `${++files}.yaml`);
  writeFileSync(path, text);
  return path;
};
const faultOf = (act: () => unknown): Fault => {
  try {
    act();
  } catch (error) {
    if (error instanceof Fault) return error;
    throw error;
  }
  throw new Error('no fault');
};

describe('the worked example', () => {
  const layout = layoutOfFile(EXAMPLE);
  const datasheet = readFileSync(resolve('deploy/LAYOUT.md'), 'utf8');

  test("decodes the datasheet's own bytes", () => {
    const hex = /Example: `([0-9A-F ]+)`/.exec(datasheet)?.[1] ?? '';
    const bytes = Uint8Array.from(hex.split(' '), (pair) => Number.parseInt(pair, 16));
    const decoder = new Decoder(layout);
    const found = decoder.push(bytes);
    expect(decoder.tally).toMatchObject({ packets: 1, samples: 3, skippedBytes: 0 });
    expect([...found.range.subarray(0, 3)]).toEqual([Math.fround(1.234), 0, 3]);
    expect(Array.from(found.bearing.subarray(0, 3), (b) => Math.round((b / deg) * 1e4) / 1e4)).toEqual([
      45, 45.9, 46.8,
    ]);
    expect([...found.strength.subarray(0, 3)]).toEqual([0x50, 0, 0x30]);
    for (let bit = 0; bit < 16 * 8; bit++) {
      const broken = bytes.slice();
      broken[bit >> 3] ^= 1 << (bit & 7);
      expect(new Decoder(layout).push(broken).count).toBe(0); // a sum finds every single bit
    }
  });

  test('works with everything that built-in ones do: encoder, decoder, recognition, options', () => {
    const stream = soundStream(recordedRows('worlds/room400.ndjson.gz').rows, layout, 20_000);
    const decoder = new Decoder(layout);
    expect(decoder.push(stream).count).toBeGreaterThan(3700);
    expect(decoder.tally.skippedBytes).toBe(0);
    expect(recognise(stream.subarray(5), [...builtInLayouts, layout])).toMatchObject({
      verdict: 'layout',
      layout: 'triple16',
    });
    const config = loadConfig(undefined, [
      `sensor.layout=${EXAMPLE}`,
      'sensor.layout_options={ sense: counterclockwise }',
    ]);
    expect(sensorLayout(config.sensor).sense).toBe('counterclockwise');
  });

  test('is found relative to the configuration, and its page names every layout and option', () => {
    const path = file(`sensor: { layout: ./mine.yaml, baud: 460800 }\n`);
    writeFileSync(join(folder, 'mine.yaml'), readFileSync(EXAMPLE));
    expect(sensorLayout(loadConfig(path).sensor)).toMatchObject({
      name: 'triple16',
      baud: 460800,
      samplesPerSecond: 8000,
    });
    expect(loadConfig(file('sensor: { layout: mine.yaml }')).sensor.layout).toBe(join(folder, 'mine.yaml'));
    for (const { name, options = {} } of builtInLayouts) {
      const row = datasheet.split('\n').find((line) => line.startsWith(`| \`${name}\` |`)) ?? '';
      for (const [option, { preset }] of Object.entries(options)) expect(row).toContain(`\`${option}: ${preset}\``);
    }
  });
});

describe('what is wrong is named with file, line and key', () => {
  const text = readFileSync(EXAMPLE, 'utf8');
  const lineOf = (part: string, of: string): number => of.slice(0, of.indexOf(part)).split('\n').length;
  test.each([
    { change: ['baud:', 'bauds:'], code: 'CONFIG_KEY_UNKNOWN', facts: { key: 'bauds', nearest: 'baud' } },
    {
      change: ['stride: 3', 'strides: 3'],
      code: 'CONFIG_KEY_UNKNOWN',
      facts: { key: 'packet.samples.strides', nearest: 'packet.samples.stride' },
    },
    {
      change: ['kind: sum', 'kind: crc99'],
      code: 'CONFIG_VALUE_BAD',
      facts: { key: 'packet.check.kind', value: '"crc99"' },
    },
    { change: ['baud: 230400', 'baud: fast'], code: 'CONFIG_VALUE_BAD', facts: { key: 'baud' } },
    { change: ['"3C 01"', '"3C 1"'], code: 'CONFIG_VALUE_BAD', facts: { key: 'start' } },
    {
      change: ['byte: 2, width: 16, per_turn: 36000', 'byte: 2, width: 16'],
      code: 'CONFIG_VALUE_BAD',
      facts: { key: 'packet.angle.first.per_turn' },
    },
    { change: ['values: [5]', 'values: []'], code: 'CONFIG_VALUE_BAD', facts: { key: 'packet.fixed[1]' } },
    {
      change: ['count: 3', 'count: 4'],
      code: 'LAYOUT_BAD',
      facts: { key: 'packet.samples', limits: 'cells within 16 bytes' },
    },
    { change: ['byte: 0, width: 15', 'byte: 2, width: 15'], code: 'LAYOUT_BAD', facts: { key: 'packet.range' } },
    {
      change: ['per_turn: 36000 }\n  #', 'per_turn: 3600 }\n  #'],
      code: 'LAYOUT_BAD',
      facts: { key: 'packet.angle.last' },
    },
    { change: ['bit: 4, width: 1', 'byte: 16, width: 1'], code: 'CONFIG_YAML_BAD', facts: {} },
    {
      change: ['start_mark: { byte: 1, bit: 4', 'start_mark: { byte: 16, bit: 4'],
      code: 'LAYOUT_BAD',
      facts: { key: 'packet.startMark' },
    },
    { change: ['sets: [sense]', 'sets: [packet.sense]'], code: 'LAYOUT_BAD', facts: { key: 'options.sense.sets' } },
    { change: ['  check:', '  # check:'], code: 'LAYOUT_BAD', facts: { key: 'packet.check' } },
  ])('$change.1: $code', ({ change: [from, to], code, facts }) => {
    expect(text.split(from)).toHaveLength(2);
    const changed = text.replace(from, to);
    const path = file(changed);
    const fault = faultOf(() => layoutOfFile(path));
    expect(fault.code).toBe(code);
    expect(fault.facts).toMatchObject({ ...facts, file: path });
    const line = lineOf(to, changed);
    if (!to.startsWith('  #'))
      expect(Math.abs((fault.facts.line as number) - line)).toBeLessThanOrEqual(to.includes('\n') ? 1 : 0);
  });

  test('a file that is not there', () => {
    expect(faultOf(() => layoutOfFile(join(folder, 'none.yaml'))).code).toBe('CONFIG_UNREADABLE');
    expect(faultOf(() => sensorLayout(loadConfig(undefined, ['sensor.layout=block31']).sensor)).code).toBe(
      'LAYOUT_NOT_FOUND',
    );
  });

  test('options: not a map, not plain, not of this layout', () => {
    expect(faultOf(() => loadConfig(undefined, ['sensor.layout_options=[1]'])).code).toBe('CONFIG_VALUE_BAD');
    expect(faultOf(() => loadConfig(undefined, ['sensor.layout_options={ a: [1] }'])).code).toBe('CONFIG_VALUE_BAD');
    expect(
      faultOf(() => sensorLayout(loadConfig(undefined, ['sensor.layout_options.correction_signed=true']).sensor)).code,
    ).toBe('LAYOUT_OPTION_BAD');
  });
});

test.each(LAYOUT_NAMES)('%s, written as a file, decodes the same', (name) => {
  const layout = findLayout(name);
  const read = layoutOfFile(file(stringify(asText(layout))));
  const stream = soundStream(recordedRows('worlds/room400.ndjson.gz').rows, layout, 20_000);
  const rows = (of: Layout): number[][] => {
    const found = new Decoder(of).push(stream);
    return [found.bearing, found.range, found.strength, found.start].map((column) => [
      ...column.subarray(0, found.count),
    ]);
  };
  expect(rows(read)).toEqual(rows(layout));
  expect(new WireEncoder(read).bytesPerSample).toBe(new WireEncoder(layout).bytesPerSample);
  expect(Object.keys(read.options ?? {})).toEqual(Object.keys(layout.options ?? {}));
});

/** A layout in the names of a file, written for this test from the page that explains them. */
function asText(layout: Layout): unknown {
  const { packet, triangulation, options = {} } = layout;
  const place = ({ offset, width, more }: Bits): object => ({
    byte: offset >> 3,
    bit: offset & 7,
    width,
    ...(more && { more: { byte: more.offset >> 3, bit: more.offset & 7, width: more.width } }),
  });
  const field = (unit: string) => (of: Field) => ({
    ...place(of),
    ...(of.signed !== undefined && { signed: of.signed }),
    [unit]: of.per,
  });
  const { angle, check, samples } = packet;
  const turn = field('per_turn');
  return {
    name: layout.name,
    baud: layout.baud,
    samples_per_second: layout.samplesPerSecond,
    sense: layout.sense,
    ...(layout.lines && { lines: layout.lines }),
    ...(layout.start !== undefined && { start: layout.start, stop: layout.stop, answer: layout.answer }),
    packet: {
      bytes: packet.bytes,
      fixed: packet.fixed.map((of) => ({
        ...place(of),
        ...('values' in of ? { values: of.values } : { least: of.least, most: of.most }),
      })),
      ...(check && { check: { ...check, field: place(check.field) } }),
      samples:
        typeof samples.count === 'number'
          ? samples
          : {
              counted: {
                ...place(samples.count),
                least: samples.count.least,
                most: samples.count.most,
                usual: samples.count.usual,
              },
              first: samples.first,
              stride: samples.stride,
            },
      angle: {
        kind: angle.kind,
        ...('field' in angle && { field: turn(angle.field) }),
        ...('first' in angle && { first: turn(angle.first) }),
        ...('last' in angle && { last: turn(angle.last) }),
        ...('zero' in angle && { zero: angle.zero }),
      },
      range: eachOf(packet.range).map(field('per_m')),
      ...(packet.strength && { strength: eachOf(packet.strength).map(place) }),
      ...(packet.noEcho && { no_echo: eachOf(packet.noEcho).map(place) }),
      ...(packet.weak && { weak: { bits: eachOf(packet.weak.bits).map(place), is_echo: packet.weak.isEcho } }),
      ...(packet.correction && { correction: eachOf(packet.correction).map(turn) }),
      ...(packet.startMark && {
        start_mark: { ...place(packet.startMark), is_alone: packet.startMark.isAlone === true },
      }),
      ...(packet.freshMark && { fresh_mark: place(packet.freshMark) }),
    },
    ...(triangulation && { triangulation: { offset_m: triangulation.offset, at_m: triangulation.at } }),
    options: Object.fromEntries(
      Object.entries(options).map(([key, { why, sets, preset, values, least, most, isSeenOnWall }]) => [
        key,
        {
          why,
          sets,
          preset,
          ...(values && { values }),
          ...(least !== undefined && { least, most }),
          ...(isSeenOnWall && { is_seen_on_wall: true }),
        },
      ]),
    ),
  };
}
