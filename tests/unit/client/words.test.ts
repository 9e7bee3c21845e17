import { describe, expect, test } from 'vitest';
import type { Health } from '../../../clients/typescript/src/client.js';
import { cutLength, fullLength } from '../../../clients/web/src/units.js';
import { lineOfTrust, noteOf, spoken, type View } from '../../../clients/web/src/words.js';

const STALLED = { code: 'SPIN_STALLED', what: 'the motor does not turn', remedy: 'Switch it off and on.', sinceS: 0 };
const SINCE = new Date(2026, 0, 1, 14, 9, 44).getTime() / 1000;
const view = (change: Partial<View>): View => ({
  ...{ trust: 'sound', since: SINCE, wasHeard: true, health: undefined, unknown: 0, sectors: 72, age: 0.038 },
  ...{
    retryIn: 0,
    tries: 0,
    refusal: undefined,
    isWatched: false,
    older: undefined,
    restarted: undefined,
    source: 'serial',
  },
  ...change,
});
const healthOf = (state: Health['state'], findings: Health['findings']): Health => ({
  ...{ state, findings, spinHz: 10, echoesPerS: 2000, validShare: 1, receivedBytes: 1, skippedBytes: 0, badChecks: 0 },
  blindBeyondOutlineM: 0,
});

test.each([
  [view({}), 'Senses sound since 14:09:44 · data 38 ms old'],
  [
    view({ trust: 'degraded', unknown: 32, health: healthOf('degraded', [STALLED]) }),
    'Senses degraded since 14:09:44 · 1 finding · unknown on 32 of 72 bearings · data 38 ms old',
  ],
  [view({ trust: 'blind', age: 4.2 }), 'Blind since 14:09:44 · nothing is vouched for · last echo 4.2 s ago'],
  [view({ trust: 'lost', retryIn: 1.2 }), 'Connection lost at 14:09:44 · nothing here is newer · trying again in 2 s'],
  [view({ trust: 'lost', wasHeard: false }), 'No connection to the daemon nothing is vouched for · trying again'],
  [view({ isWatched: true }), 'Senses sound watched since 14:09:44 · data 38 ms old'],
  [
    view({ older: '0.0.9' }),
    'Senses sound since 14:09:44 · this page is newer than the daemon (0.0.9) · data 38 ms old',
  ],
  [view({ restarted: SINCE + 18 }), 'Daemon restarted at 14:10:02 · start and path are new · senses sound'],
  [
    view({
      trust: 'blind',
      age: Infinity,
      health: healthOf('blind', [{ ...STALLED, code: 'PORT_MISSING', sinceS: SINCE }]),
    }),
    'No sensor yet looking since 14:09:44 · nothing is vouched for',
  ],
])('line of trust %#', (seen, line) => {
  const { head, facts } = lineOfTrust(seen);
  expect(`${head} ${facts.map(({ text }) => text).join(' · ')}`).toBe(line);
});

describe('note on the sheet', () => {
  const later = SINCE + 12;
  test('none while something is vouched for', () => {
    expect(noteOf(view({}), later)).toBeUndefined();
  });
  test('blind: the first finding and what to do', () => {
    const note = noteOf(view({ trust: 'blind', health: healthOf('blind', [STALLED]) }), later);
    expect(note).toMatchObject({
      title: 'The motor does not turn',
      todo: 'switch it off and on.',
      code: 'SPIN_STALLED',
    });
  });
  test('lost: for how long', () => {
    expect(noteOf(view({ trust: 'lost' }), later)?.title).toBe('No word from the daemon for 12\u00a0seconds');
  });
});

test('what is spoken holds no figure that changes by itself', () => {
  const first = spoken(view({ trust: 'degraded', unknown: 3, health: healthOf('degraded', [STALLED]) }));
  const second = spoken(view({ trust: 'degraded', unknown: 4, age: 0.09, health: healthOf('degraded', [STALLED]) }));
  expect(first).toBe('Senses degraded. The motor does not turn. Do: Switch it off and on.');
  expect(second).toBe(first);
});

test('a leeway is cut, a way needed is not; a 32-bit float is read as it was meant', () => {
  expect(['0.999', '3.6', '0.004', '2.005'].map((text) => cutLength(Math.fround(Number(text))))).toEqual([
    '0.99',
    '3.60',
    '0.00',
    '2.00',
  ]);
  expect(['0.225', '0.231', '3.6', '0'].map((text) => fullLength(Math.fround(Number(text))))).toEqual([
    '0.23',
    '0.24',
    '3.60',
    '0.00',
  ]);
});
