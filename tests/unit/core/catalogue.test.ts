import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { explain, Fault, type FaultCode, faultCodes } from '../../../src/core/fault.js';

const ROOT = new URL('../../../', import.meta.url);
const CODE = /^[A-Z][A-Z0-9]*(_[A-Z0-9]+)+$/;

/** @returns code, what happened and what to do of every row of a Markdown table. */
function rowsOf(markdown: string): { code: string; text: string; remedy: string }[] {
  return markdown
    .split('\n')
    .map((line) => line.split(' | ').map((cell) => cell.replace(/^\| | \|$/g, '')))
    .filter((cells) => /^`[A-Z0-9_]+`$/.test(cells[0]))
    .map(([code, text, remedy]) => ({ code: code.replaceAll('`', ''), text, remedy }));
}

/** @returns the codes of `codes` that no source names as a string. */
function unused(codes: readonly string[], sources: readonly string[]): string[] {
  return codes.filter((code) => !sources.some((source) => source.includes(`'${code}'`)));
}

function sources(): string[] {
  const names = readdirSync(new URL('src/', ROOT), { recursive: true, encoding: 'utf8' });
  return names
    .filter((name) => name.endsWith('.ts') && !name.endsWith('.d.ts') && name !== 'core/fault.ts')
    .map((name) => readFileSync(new URL(`src/${name}`, ROOT), 'utf8'));
}

describe('the catalogue', () => {
  test('is what deploy/FAULTS.md says, row by row', () => {
    const rows = rowsOf(readFileSync(new URL('deploy/FAULTS.md', ROOT), 'utf8'));
    const told = faultCodes().map((code) => ({ code, text: explain(code).text, remedy: explain(code).remedy }));
    expect(rows).toEqual(told);
  });

  test('is in order, so that a code is easy to find in the source', () => {
    const source = readFileSync(new URL('src/core/fault.ts', ROOT), 'utf8');
    const written = [...source.matchAll(/^ {2}([A-Z][A-Z0-9_]+): \{/gm)].map(([, code]) => code);
    expect(written).toEqual(faultCodes());
  });

  test('holds no code that nothing tells', () => {
    expect(unused(faultCodes(), sources())).toEqual([]);
  });

  test.each(faultCodes())('%s is a code, with a sentence and a remedy', (code) => {
    const { text, remedy } = explain(code);
    expect(code).toMatch(CODE);
    expect(text).toMatch(/^[a-z].*[^.]$/); // a clause: it goes on after a name or a place
    expect(remedy).toMatch(/^[A-Z].*[.]$/);
    expect(text + remedy).not.toMatch(/\||\n/); // a cell of a Markdown table
  });
});

describe('the checks themselves can fail', () => {
  test('a row is read, a line that is none is not', () => {
    expect(rowsOf('| code | what | do |\n| --- | --- | --- |\n| `A_B` | it broke | Mend it. |\n')).toEqual([
      { code: 'A_B', text: 'it broke', remedy: 'Mend it.' },
    ]);
  });

  test('a code in a longer one does not count as used', () => {
    expect(unused(['PORT_LOST'], ["new Fault('PORT_LOST_AGAIN')"])).toEqual(['PORT_LOST']);
  });
});

describe('a Fault', () => {
  test('says the sentence of its code, or the better one that came with it, and keeps its cause', () => {
    const cause = new Error('EIO');
    const fault = new Fault('PORT_LOST', { port: '/dev/ttyUSB0' }, cause);
    expect(fault.message).toBe('the serial port went away [PORT_LOST]');
    expect(fault.cause).toBe(cause);
    expect(fault.retry).toBe(true);
    expect(fault.remedy).toBe(explain('PORT_LOST').remedy);
    expect(new Fault('PORT_LOST', { text: 'the cable was pulled' }).message).toBe('the cable was pulled [PORT_LOST]');
  });

  test('has a code of the catalogue', () => {
    const code: FaultCode = 'PORT_LOST';
    expect(faultCodes()).toContain(code);
  });
});
