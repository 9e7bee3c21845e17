import type { Clock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import { listed, listRuns, namedRun } from '../runs/folder.js';
import { MOMENT_COLUMNS } from '../runs/format.js';
import { RunFile } from '../runs/runFile.js';
import type { PlayedRun, RunsSource } from '../server/runsSource.js';
import { ReplayFeeds, replaySettings } from './replay.js';
import { runRow } from './runRow.js';

const PLAYING_MAX = 4;

/** The runs of a folder for the clients of a daemon. */
export class RunsDesk implements RunsSource {
  readonly #parts: DeskParts;
  #playing = 0;

  constructor(parts: DeskParts) {
    this.#parts = parts;
  }

  async list(): Promise<object> {
    return { runs: listRuns(this.#parts.folder).map(runRow) };
  }

  async show(name: string): Promise<object> {
    const path = namedRun(this.#parts.folder, name);
    const run = new RunFile(path);
    try {
      const moments = run.moments;
      return {
        ...runRow(listed(path)),
        events: run.events.map(({ at, kind, text }) => ({ atS: at, kind, text })),
        momentsAtS: moments.map(({ at }) => at),
        moments: Object.fromEntries(
          MOMENT_COLUMNS.map((column, i) => [column, moments.map(({ values }) => values[i])]),
        ),
      };
    } finally {
      run.close();
    }
  }

  play(name: string): PlayedRun {
    const { folder, file, sets, version, clock } = this.#parts;
    if (this.#playing >= PLAYING_MAX) throw new Fault('RUNS_PLAYING_FULL', { playing_max: PLAYING_MAX });
    const run = new RunFile(namedRun(folder, name));
    const feeds = new ReplayFeeds({
      ...{ run, settings: replaySettings(run, file, sets), version, clock, pace: 1, neededRole: 'watch' },
    });
    this.#playing++;
    const stop = feeds.stop.bind(feeds);
    return Object.assign(feeds, {
      stop: async () => {
        this.#playing--;
        await stop();
      },
    });
  }
}

interface DeskParts {
  readonly folder: string;
  readonly file: string | undefined;
  readonly sets: readonly string[];
  readonly version: string;
  readonly clock: Clock;
}
