import { createHash } from 'node:crypto';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { clearanceSetting, helloFacts, perceptionSetting } from '../../src/cli/compose.js';
import { RecordingDesk } from '../../src/cli/recording.js';
import { Replayed, replaySettings } from '../../src/cli/replay.js';
import { sensorLayout } from '../../src/cli/sensorLayout.js';
import { simulatedRover } from '../../src/cli/simulation.js';
import { loadSettings } from '../../src/config/load.js';
import { openLink } from '../../src/device/link.js';
import { type Daemon, startDaemon } from '../../src/pipeline/daemon.js';
import type { FeedMessage } from '../../src/pipeline/feedMessage.js';
import { RunFile } from '../../src/runs/runFile.js';
import { type FakeClock, fakeClock } from './fakeClock.js';

/** A daemon on the simulated rover, in virtual time, that records. */
export interface Recording {
  readonly clock: FakeClock;
  readonly desk: RecordingDesk;
  readonly messages: FeedMessage[];
  readonly folder: string;
  readonly daemon: Daemon;
  drive(speed: number, turn: number): void;
  /** @returns the path of the run. */
  stop(): Promise<string>;
}

/** @param sets as on the command line; the shed is the world where nothing else is said. */
export function startRecording(sets: readonly string[] = []): Recording {
  const folder = mkdtempSync(join(tmpdir(), 'leeway-runs-'));
  const all = ['simulator.world=shed', 'runs.record=true', `runs.folder=${folder}`, 'runs.free_min_mb=0', ...sets];
  const settings = loadSettings(undefined, all);
  const { config } = settings;
  const clock = fakeClock();
  const layout = sensorLayout(config.sensor);
  const { port } = simulatedRover(config, layout, clock);
  const desk = new RecordingDesk(port, settings, layout, 'test', clock);
  const daemon = startDaemon(
    {
      link: openLink(desk.port, layout, config.sensor, clock),
      clearance: clearanceSetting(config),
      perception: perceptionSetting(config),
      hello: helloFacts(config, 'test'),
      clock,
      desk,
      drive: (speed, turn) => port.drive(speed, turn),
      log: { info: () => {}, warn: () => {} },
    },
    (error) => {
      throw error;
    },
  );
  const messages: FeedMessage[] = [];
  daemon.feeds.messages.subscribe((message) => {
    messages.push(message);
    desk.hear(message);
  });
  return {
    ...{ clock, desk, messages, folder, daemon },
    drive: (speed, turn) => port.drive(speed, turn),
    stop: async () => {
      const { name } = desk;
      const ended = daemon.stop();
      await clock.advanceAsync(0.6); // the sensor is told to stop
      await ended;
      await desk.stop();
      return join(folder, `${name}.run`);
    },
  };
}

/** Records so many seconds of the simulated rover in virtual time. @returns the path of the run. */
export async function recordedRun(seconds: number, sets: readonly string[] = []): Promise<string> {
  const recording = startRecording(sets);
  await recording.clock.advanceAsync(seconds);
  return recording.stop();
}

/**
 * Plays a run and hashes every message of every feed.
 * @param slice s: how far each step goes; Infinity: in one go.
 */
export async function replayHash(
  path: string,
  slice = Infinity,
  sets: readonly string[] = [],
): Promise<{ hash: string; counts: Record<number, number> }> {
  const run = new RunFile(path);
  const { player, daemon } = new Replayed(run, replaySettings(run, undefined, sets), 'test');
  const hash = createHash('sha256');
  const counts: Record<number, number> = {};
  daemon.feeds.messages.subscribe((message) => {
    counts[message.feed] = (counts[message.feed] ?? 0) + 1;
    hash.update(message.bytes('proto'));
  });
  for (let until = run.about.began_s + slice; !player.isEnded; until += slice) await player.advance(until, () => false);
  run.close();
  return { hash: hash.digest('hex'), counts };
}
