// Cost of the shapes: ns an echo by stage and bytes allocated a sweep, on simulated drives; and the same sweeps through the
// C++ program of the folder beside the project (general-purpose libraries), in turn in one run, where it is and can be built.
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { sharedPath } from '../support/sharedData.js';
import { readWorld, type World } from '../support/worlds.js';

/** Sweeps the program has seen before it is timed: a daemon's second minute. The C++ program needs none. */
const WARM = 1500;
const SIZES = [400, 800, 1600] as const;
const BY_SIZE = {
  400: ['room400', 'lcorr400', 'doors400', 'curve400'],
  800: ['workshop800', 'glass800', 'hall800'],
  1600: ['workshop1600', 'aisle1600'],
} as const;
const BASELINE = '--tol 0.25 --gap 0.6 --thr 0.04 --minlen 0.3 --minn 7 --reach 0.3 --net 0.2 --hits 5'.split(' ');

const worlds = sharedPath('worlds');
const baselines = sharedPath('baselines');

const built = new URL('../../dist/perception/shapes/shapes.js', import.meta.url);
const isBuilt = existsSync(built);
if (!isBuilt) console.warn('SKIPPED: npm run build first; the built program is what is timed.');

const median = (values: number[]): number => values.sort((a, b) => a - b)[values.length >> 1];

/** The C++ program's microseconds a sweep for segments, lines and corners. */
function baseline(bin: string, world: World, folder: string): number[] {
  const file = join(folder, 'in.ndjson');
  writeFileSync(
    file,
    world.sweeps.map(({ t, dt, bearings, ranges }) => JSON.stringify({ t, dt, bearings, ranges })).join('\n'),
  );
  const out = execFileSync(join(bin, 'nano'), BASELINE, {
    input: readFileSync(file),
    encoding: 'utf8',
    maxBuffer: 1 << 30,
  });
  return out
    .trim()
    .split('\n')
    .slice(20)
    .map((line) => {
      const { stages } = JSON.parse(line) as { stages: { seg: number; lines: number } };
      return stages.seg + stages.lines;
    });
}

function build(): string | undefined {
  if (baselines === undefined) return undefined;
  try {
    const out = mkdtempSync(join(tmpdir(), 'baselines-'));
    return execFileSync(join(baselines, 'build.sh'), [out], { encoding: 'utf8' }).trim().split('\n').pop();
  } catch (error) {
    console.warn(
      `SKIPPED: the C++ program could not be built (g++, libeigen3-dev, libnanoflann-dev): ${String(error).slice(0, 200)}`,
    );
    return undefined;
  }
}

describe.skipIf(worlds === undefined || !isBuilt)('shapes', () => {
  const bin = worlds === undefined || !isBuilt ? undefined : build();

  test.each(SIZES)('%d samples a sweep', (samples) => {
    const folder = mkdtempSync(join(tmpdir(), 'shapes-'));
    const theirs =
      bin === undefined
        ? []
        : BY_SIZE[samples].flatMap((name) => baseline(bin, readWorld(worlds as string, name), folder));
    rmSync(folder, { recursive: true });
    const program = fileURLToPath(new URL('../support/timeShapes.mjs', import.meta.url));
    const out = execFileSync(process.execPath, [program, String(WARM), worlds as string, ...BY_SIZE[samples]], {
      encoding: 'utf8',
    });
    const { stages, bytes } = JSON.parse(out) as { stages: Array<[number, number, number]>; bytes: number };
    const [seg, lines, rest] = [0, 1, 2].map((k) => median(stages.map((stage) => stage[k])));
    const ours = median(stages.map(([a, b]) => a + b));
    console.log(
      `${cpus()[0].model}, Node ${process.version}: ${samples} samples: segments ${seg.toFixed(1)} us, walls and corners ` +
        `${lines.toFixed(1)} us, posts, openings and values ${rest.toFixed(1)} us a sweep; ` +
        `${((1e3 * (ours + rest)) / samples).toFixed(0)} ns an echo, ${(bytes / 1024).toFixed(1)} KiB allocated a sweep`,
    );
    expect((1e3 * (ours + rest)) / samples).toBeLessThan(400);
    expect(bytes).toBeLessThan(64 * 1024);
    if (bin === undefined) return;
    const ratio = ours / median(theirs);
    console.log(
      `  segments, walls and corners: ${ours.toFixed(1)} us, C++ ${median(theirs).toFixed(1)} us, ratio ${ratio.toFixed(3)}`,
    );
    expect(ratio).toBeLessThanOrEqual(0.25);
  });
});
