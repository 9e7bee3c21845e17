import type { Config } from '../config/config.js';
import { loadSettings } from '../config/load.js';
import type { Layout } from '../device/layouts/layout.js';
import { openLink } from '../device/link.js';
import { type Daemon, startDaemon } from '../pipeline/daemon.js';
import { Player } from '../runs/player.js';
import { ReplayClock } from '../runs/replayClock.js';
import { ReplayPort } from '../runs/replayPort.js';
import type { RunFile } from '../runs/runFile.js';
import { clearanceSetting, helloFacts, perceptionSetting } from './compose.js';
import { sensorLayout } from './sensorLayout.js';
import { SweepLink } from './sweepLink.js';

const SILENT = { info: () => {}, warn: () => {} };
/** Lets all promises that are settled run on: a turn of the event loop. */
export const settle = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/** How a run is played again. */
export interface ReplaySettings {
  readonly config: Config;
  readonly layout: Layout;
}

/**
 * Settings for a run: those of the day, over them the file and each `KEY=VALUE`.
 * @throws {Fault} of the configuration and the layout.
 */
export function replaySettings(run: RunFile, file: string | undefined, sets: readonly string[]): ReplaySettings {
  const { config } = loadSettings(file, sets, run.about.settings);
  const then = loadSettings(undefined, [], run.about.settings).config.sensor;
  const now = config.sensor;
  const isSame =
    then.layout === now.layout &&
    then.baud === now.baud &&
    JSON.stringify(then.layoutOptions) === JSON.stringify(now.layoutOptions);
  // the layout itself is in the run: its file may be gone
  return { config, layout: isSame && run.about.layout ? (run.about.layout as Layout) : sensorLayout(now) };
}

/** The daemon's senses on a run, in the time of its day: one start of them, to be played on. */
export class Replayed {
  readonly clock: ReplayClock;
  readonly daemon: Daemon;
  readonly player: Player;

  /** @param from s, Clock: begin there instead of at the beginning. @param sequences of each feed, messages that went before. */
  constructor(run: RunFile, settings: ReplaySettings, version: string, from?: number, sequences?: Map<number, number>) {
    const { config, layout } = settings;
    const { about } = run;
    this.clock = new ReplayClock(from ?? about.began_s);
    const port = new ReplayPort(about.port, true);
    const isSweeps = about.form === 'sweeps';
    const lines = new SweepLink(config);
    const link = isSweeps ? lines : openLink(port, layout, config.sensor, this.clock);
    this.daemon = startDaemon(
      {
        link,
        clearance: clearanceSetting(config),
        perception: perceptionSetting(config),
        hello: { ...helloFacts(config, version), source: 'run', rover: about.rover, run: about.name },
        clock: this.clock,
        log: SILENT,
        isLocked: isSweeps,
        ...(sequences && { sequences }),
      },
      (error) => {
        throw error;
      },
    );
    const hearers = { sweep: (line: string) => lines.take(line) };
    this.player = new Player({ run, clock: this.clock, port, hearers, settle, ...(from !== undefined && { from }) });
  }
}
