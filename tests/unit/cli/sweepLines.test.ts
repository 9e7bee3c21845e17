import { describe, expect, test } from 'vitest';
import { readSweepLine } from '../../../src/cli/sweepLines.js';
import { Fault } from '../../../src/core/fault.js';

describe('a good line', () => {
  test('with bearings, either way round', () => {
    const line = readSweepLine(
      '{"t": 1.5, "dt": 0.001, "bearings": [3, 2, 1], "ranges": [1, 0, 2.5], "truth": {"x": null}}',
      1,
    );
    expect({ ...line, bearings: [...line.bearings], ranges: [...line.ranges] }).toEqual({
      t: 1.5,
      dt: 0.001,
      bearings: [3, 2, 1],
      ranges: [1, 0, 2.5],
    });
  });
  test('with first angle and step: ray i points at angle0 + i step', () => {
    const line = readSweepLine('{"t": 0, "angle0": -1, "step": -0.5, "ranges": [1, 2, 3], "wheels": null}\r', 1);
    expect([...line.bearings]).toEqual([-1, -1.5, -2]);
    expect(line.dt).toBeNaN();
  });
  test('without dt, or with 0, is taken at one time', () => {
    expect(readSweepLine('{"t": 0, "dt": 0, "bearings": [1], "ranges": [1]}', 1).dt).toBeNaN();
  });
});

describe('a bad line names its number and what is wrong', () => {
  test.each([
    ['', 'not JSON'],
    ['{"t": 1', 'not JSON'],
    ['{"t": NaN, "bearings": [1], "ranges": [1]}', 'not JSON'],
    ['[1]', 'not a JSON object'],
    ['null', 'not a JSON object'],
    ['{"bearings": [1], "ranges": [1]}', 't is missing'],
    ['{"t": "1", "bearings": [1], "ranges": [1]}', 't is "1"'],
    ['{"t": 1e300, "bearings": [1], "ranges": [1]}', 't is 1e+300'],
    ['{"t": 1, "dt": -0.1, "bearings": [1], "ranges": [1]}', 'dt is -0.1'],
    ['{"t": 1, "dt": null, "bearings": [1], "ranges": [1]}', 'dt is null'],
    ['{"t": 1, "bearings": [1]}', 'ranges is missing'],
    ['{"t": 1, "ranges": [1]}', 'neither bearings nor angle0 and step'],
    ['{"t": 1, "angle0": 0, "ranges": [1]}', 'step is missing'],
    ['{"t": 1, "angle0": 0, "step": 0, "ranges": [1]}', 'step is 0'],
    ['{"t": 1, "bearings": [], "ranges": []}', 'ranges has 0 values'],
    ['{"t": 1, "bearings": [1, 2], "ranges": [1]}', '2 bearings but 1 ranges'],
    ['{"t": 1, "bearings": [1, null], "ranges": [1, 1]}', 'bearings[1] is null'],
    ['{"t": 1, "bearings": [1, 180], "ranges": [1, 1]}', 'bearings[1] is 180'],
    ['{"t": 1, "bearings": [1, 2], "ranges": [1, -1]}', 'ranges[1] is -1'],
    ['{"t": 1, "bearings": [1, 2], "ranges": [1, 250000]}', 'ranges[1] is 250000'],
  ])('%s', (text, reason) => {
    let found: unknown;
    try {
      readSweepLine(text, 7);
    } catch (error) {
      found = error;
    }
    expect(found).toBeInstanceOf(Fault);
    const { code, facts } = found as Fault;
    expect(code).toBe('INPUT_LINE_BAD');
    expect(facts.line).toBe(7);
    expect(facts.reason).toContain(reason);
  });
});
