import { spawnSync } from 'node:child_process';

/** Debian's own interpreter: another one earlier on the path does not see Debian's modules. */
const PYTHON = '/usr/bin/python3';

/** @returns whether numpy and scipy are there; says plainly where they are not. */
export function hasNumpy(): boolean {
  const tried = spawnSync(PYTHON, ['-c', 'import numpy, scipy.optimize'], { encoding: 'utf8' });
  if (tried.status === 0) return true;
  console.warn(
    'SKIPPED: python3-numpy and python3-scipy (Debian) are absent; the checks against them do not run here.',
  );
  return false;
}

/** Runs `code` with `data` as d and json imported. @returns what it prints as JSON. */
export function runPython(code: string, data: unknown): unknown {
  const script = `import json,sys\nd=json.load(sys.stdin)\n${code}`;
  const run = spawnSync(PYTHON, ['-c', script], { input: JSON.stringify(data), encoding: 'utf8' });
  if (run.status !== 0) throw new Error(run.stderr);
  return JSON.parse(run.stdout) as unknown;
}
