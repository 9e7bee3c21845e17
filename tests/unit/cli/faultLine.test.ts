import { expect, test } from 'vitest';
import { exitCodeOf, faultLine } from '../../../src/cli/faultLine.js';
import { nodeFault } from '../../../src/cli/nodeVersion.js';
import { Fault } from '../../../src/core/fault.js';

test('a fault is one line: sentence, facts, code, remedy', () => {
  expect(faultLine(new Fault('CONFIG_KEY_UNKNOWN', { key: 'server.prot', nearest: 'server.port', line: 3 }))).toBe(
    'unknown key in the configuration (key: server.prot, nearest: server.port, line: 3) [CONFIG_KEY_UNKNOWN]. ' +
      'Do: Correct the key; the nearest known one is named.',
  );
  expect(faultLine(new Fault('USAGE_WRONG'))).toBe('wrong use [USAGE_WRONG]. Do: See --help.');
});

test('what came from outside neither breaks the line nor drives the terminal', () => {
  const line = faultLine(new Fault('INPUT_UNREADABLE', { input: 'a\nb\u001b[2J\u009b' }));
  expect(line).not.toMatch(/\p{Cc}/u);
});

test('wrong use ends with 2, any other fault with 1', () => {
  expect(exitCodeOf(new Fault('USAGE_WRONG'))).toBe(2);
  expect(exitCodeOf(new Fault('CONFIG_VALUE_BAD'))).toBe(1);
});

// package.json, engines: >= 22.17
test.each([
  ['v20.20.2', true],
  ['v22.16.9', true],
  ['v22.17.0', false],
  ['v22.23.3', false],
  ['v24.0.0', false],
  ['v26.10.0-nightly', false],
])('Node %s is too old: %s', (version, isOld) => {
  expect(nodeFault(version)?.code).toBe(isOld ? 'NODE_TOO_OLD' : undefined);
});
