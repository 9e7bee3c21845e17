import { stripVTControlCharacters } from 'node:util';
import fc from 'fast-check';
import stringWidth from 'string-width';
import { describe, expect, test } from 'vitest';
import { type State, view } from '../../../../src/cli/watch/view.js';
import { CAUTION, type Trust } from '../../../../src/cli/watch/words.js';
import { HEALTH, HELLO, stateOf } from '../../../support/watched.js';

const ESC = '\u001b';
const shown = (state: State, columns: number, rows: number): string[] =>
  view(state, columns, rows).map(stripVTControlCharacters);
const text = (state: State, columns = 80, rows = 23): string => shown(state, columns, rows).join('\n');
/** As prose: what was wrapped beside the plan is put together again. */
const words = (state: State): string =>
  shown(state, 80, 23)
    .map((line) => line.slice(45).trim())
    .join(' ');

describe.each([
  { columns: 80, rows: 23 },
  { columns: 120, rows: 39 },
])('in $columns x $rows', ({ columns, rows }) => {
  const screen = text(stateOf({}), columns, rows);
  test.each([
    ['who', 'supply cart · simulated · role watch'],
    ['where', '192.0.2.7:5339'],
    ['state', 'SENSES SOUND'],
    ['unknown', 'unknown on 18 of 72 bearings'],
    ['age', 'data 62 ms old'],
    ['age of the evidence', 'up to 90 ms old'],
    ['ahead', '1.20 m vouched for'],
    ['stopping distance', '0.23 m at full speed'],
    ['nearest', '2.20 m'],
    ['spin', '10.0 revolutions/s'],
    ['echoes', '1980/s, 98.1 % valid'],
    ['findings', 'Findings  none'],
    ['caution', CAUTION],
    ['keys', '+ nearer  - farther  0 fit  space freeze  ? help  q quit'],
    ['legend', '⣶ obstacle  ○ clear so far  · vouched for  ╱╱ unknown  blank: not vouched for'],
  ])('%s', (_, part) => expect(screen).toContain(part));
  test('the plan', () => {
    for (const sign of ['▲', '╱╱╱╱', '····', '○', '│', '┬']) expect(screen).toContain(sign);
  });
});

test('leeway stands where its direction is', () => {
  const lines = shown(stateOf({}), 80, 23);
  const at = lines.findIndex((line) => line.includes('Leeway towards'));
  expect(lines.slice(at + 1, at + 4).map((line) => line.slice(45).trim().split(/\s+/))).toEqual([
    ['none', '1.20', '2.00'],
    ['none', '▲', '3.00'],
    ['none', '3.00', '3.00'],
  ]);
});

const lost: readonly { trust: Trust; head: string }[] = [
  { trust: 'lost', head: 'CONNECTION LOST' },
  { trust: 'stale', head: 'STALE' },
  { trust: 'blind', head: 'BLIND' },
];
describe.each(lost)('$trust', ({ trust, head }) => {
  const gone = { clearance: undefined, ...(trust === 'blind' ? {} : { health: undefined }), towards: Array(8).fill(0) };
  const state = stateOf({ standing: { trust }, picture: gone });
  test('says so, and that nothing is vouched for', () => {
    const [, line] = shown(state, 80, 23);
    expect(line).toContain(head);
    expect(line).toContain('nothing is vouched for');
    expect(words(state)).toMatch(/[Nn]othing is vouched for/);
    expect(words(state)).toContain('Do: ');
  });
  test('shows no place as free, and no figure of a leeway', () => {
    const body = shown(state, 80, 23).slice(2, -3).join('\n');
    expect(body).not.toContain('·');
    expect(body).not.toMatch(/Ahead|towards/);
    expect(body.match(/╱/g)?.length).toBeGreaterThan(500);
  });
  test('also while a picture is frozen', () => {
    const [, line] = shown(
      stateOf({ standing: { trust }, state: { frozenAt: new Date(2026, 3, 1, 12, 3, 9) } }),
      80,
      23,
    );
    expect(line).toMatch(/FROZEN at 12:03:09, not live/);
    expect(line).toContain(head);
    expect(line).toContain('nothing is vouched for');
  });
});

test('never heard: names the address', () => {
  const state = stateOf({
    standing: { trust: 'lost', wasHeard: false },
    picture: { hello: undefined, clearance: undefined, health: undefined },
  });
  expect(text(state)).toContain('NO CONNECTION to 192.0.2.7:5339');
});

test('a refusal is told with its remedy', () => {
  const refusal = { code: 'CLIENTS_FULL', what: 'as many clients as are allowed', remedy: 'Close one.' };
  const state = stateOf({ standing: { trust: 'lost', refusal }, picture: { clearance: undefined, health: undefined } });
  expect(words(state)).toMatch(/As many clients as are allowed\. .*Do: Close one\. CLIENTS_FULL/);
});

describe('findings', () => {
  const finding = (code: string) => ({
    code,
    what: `${code.toLowerCase()} happened`,
    remedy: 'Look at the cable, then at the plug.',
    sinceS: 0,
  });
  test('with what to do', () => {
    const health = { ...HEALTH, state: 'degraded' as const, findings: [finding('A')] };
    expect(words(stateOf({ standing: { trust: 'degraded' }, picture: { health } }))).toContain(
      'A happened. Do: Look at the cable, then at the plug. A',
    );
  });
  test('the first of many is there in 80 x 24, and that there is more', () => {
    const health = { ...HEALTH, state: 'degraded' as const, findings: ['A', 'B', 'C', 'D', 'E', 'F'].map(finding) };
    const told = words(stateOf({ standing: { trust: 'degraded' }, picture: { health } }));
    expect(told).toContain('A happened. Do: Look at the cable');
    expect(told).toContain('more in a higher terminal');
  });
});

test('movers and shapes in words, once the rover tells', () => {
  expect(text(stateOf({}))).not.toMatch(/Movers|Shapes/);
  const movers = { sweep: 3, movers: [] };
  const shapes = {
    sweep: 3,
    walls: [],
    corners: [],
    openings: [],
    posts: [{ xM: 1, yM: 0, radiusM: 0.02, radiusSdM: 0 }],
  };
  const told = text(stateOf({ picture: { movers, shapes } }));
  expect(told).toContain('Movers    nothing moves');
  expect(told).toContain('Shapes    1 post');
});

test('in 80 x 24 with a finding, who comes is still told', () => {
  const finding = { code: 'A', what: 'many bytes could not be read', remedy: 'Check the cable.', sinceS: 0 };
  const mover = {
    ...{ id: 7, xM: 2, yM: 0, vxMps: -0.8, vyMps: 0, widthM: 0.4, ageS: 3, confidence: 0.9 },
    ...{ closestM: 0.3, closestInS: 2 },
  };
  const opening = { x1M: 2, y1M: 0.5, x2M: 2, y2M: -0.5, widthM: 0.9, widthSdM: 0.02 };
  const shapes = { sweep: 1, walls: [], corners: [], openings: [opening], posts: [] };
  const health = { ...HEALTH, state: 'degraded' as const, findings: [finding] };
  const state = stateOf({
    picture: { health, shapes, movers: { sweep: 1, movers: [mover, mover] } },
    standing: { trust: 'degraded' },
  });
  expect(words(state)).toContain('coming: 0.30 m in 2.0 s');
  expect(words(state)).toContain('Do: Check the cable.');
});

test('help explains every key and keeps the state and the caution', () => {
  const help = text(stateOf({ state: { isHelp: true } }));
  for (const part of ['nearer', 'farther', 'freeze', 'quit', 'SENSES SOUND', CAUTION]) expect(help).toContain(part);
});

describe('colour', () => {
  const colours = new RegExp(`${ESC}\\[(?:[34]\\d|9\\d|38|48)`); // ECMA-48, 8.3.117, and the bright ones of common practice
  test('none unless wanted', () => {
    expect(view(stateOf({}), 80, 23).join('')).not.toMatch(colours);
  });
  test('changes no sign', () => {
    const coloured = stateOf({ state: { look: { isUnicode: true, hasColour: true } } });
    expect(view(coloured, 80, 23).join('')).toMatch(colours);
    expect(shown(coloured, 80, 23)).toEqual(shown(stateOf({}), 80, 23));
  });
});

test('ASCII alone where the locale has no more', () => {
  const health = { ...HEALTH, findings: [{ code: 'A', what: 'zu groß – 3 µm', remedy: '…', sinceS: 0 }] };
  const screen = text(stateOf({ picture: { health }, state: { look: { isUnicode: false, hasColour: false } } }));
  expect(screen).toMatch(/^[ -~\n]*$/);
  expect(screen).toContain('//////');
});

test('what comes over the wire cannot drive the terminal', () => {
  const hello = { ...HELLO, rover: 'a\u001b]0;b\u0007c\u009bd\u202ee\nf' };
  for (const line of view(stateOf({ picture: { hello } }), 80, 23))
    expect(line.replaceAll(new RegExp(`${ESC}\\[[\\d;]*m`, 'g'), '')).not.toMatch(/[\p{Cc}\p{Cf}]/u);
});

test('every line has the width of the terminal, whatever is told and however small it is', () => {
  const trusts: Trust[] = ['sound', 'degraded', 'blind', 'stale', 'lost'];
  const any = fc.record({
    columns: fc.integer({ min: 1, max: 160 }),
    rows: fc.integer({ min: 1, max: 50 }),
    trust: fc.constantFrom(...trusts),
    rover: fc.string({ unit: 'grapheme' }),
    what: fc.string({ unit: 'grapheme' }),
    isUnicode: fc.boolean(),
    isHelp: fc.boolean(),
    isFrozen: fc.boolean(),
  });
  fc.assert(
    fc.property(any, ({ columns, rows, trust, rover, what, isUnicode, isHelp, isFrozen }) => {
      const health = { ...HEALTH, findings: [{ code: 'X', what, remedy: what, sinceS: 0 }] };
      const state = stateOf({
        picture: { hello: { ...HELLO, rover }, health },
        standing: { trust },
        state: { isHelp, frozenAt: isFrozen ? new Date(0) : undefined, look: { isUnicode, hasColour: false } },
      });
      const lines = view(state, columns, rows);
      expect(lines).toHaveLength(rows);
      for (const line of lines) expect(stringWidth(line)).toBe(columns);
    }),
    { numRuns: 150 },
  );
});
