import { performance } from 'node:perf_hooks';
import { Feed } from '../messages/codec.js';
import type { FeedMessage } from '../pipeline/feedMessage.js';
import type { RunFile } from '../runs/runFile.js';
import { Replayed, type ReplaySettings } from './replay.js';

const REDRAW_MS = 100;
const BAR = 24; // characters

/**
 * Plays a run from its beginning to its end, as fast as the machine can.
 * @param hear gets every message, in order.
 * @param pause called after every sweep and awaited; false: enough.
 */
export async function playThrough(
  run: RunFile,
  settings: ReplaySettings,
  version: string,
  hear: (message: FeedMessage) => void,
  pause: () => Promise<boolean> = async () => true,
): Promise<void> {
  const { player, daemon, clock } = new Replayed(run, settings, version);
  let isSweepDone = false;
  daemon.feeds.messages.subscribe((message) => {
    hear(message);
    if (message.feed === Feed.FEED_SHAPES) isSweepDone = true; // the last of a sweep's messages
  });
  const bar = new ProgressBar(run.about.began_s, run.until);
  while (!player.isEnded) {
    isSweepDone = false;
    await player.advance(Infinity, () => isSweepDone);
    bar.show(clock.now());
    if (!(await pause())) break;
  }
  bar.end();
  await daemon.stop();
}

/** How far it is, on a terminal's standard error; nothing where that is none. */
class ProgressBar {
  readonly #from: number;
  readonly #to: number;
  readonly #began = performance.now();
  #shownAt = -Infinity;

  constructor(from: number, to: number) {
    this.#from = from;
    this.#to = to;
  }

  show(at: number): void {
    if (!process.stderr.isTTY) return;
    const now = performance.now();
    if (now - this.#shownAt < REDRAW_MS) return;
    this.#shownAt = now;
    const share = Math.min(1, Math.max(0, (at - this.#from) / (this.#to - this.#from)));
    const done = Math.round(share * BAR);
    const pace = (at - this.#from) / ((now - this.#began) / 1000);
    process.stderr.write(
      `\r[${'#'.repeat(done)}${'-'.repeat(BAR - done)}] ${Math.round(share * 100)} % at ${pace.toFixed(0)} x `,
    );
  }

  end(): void {
    if (this.#shownAt > 0) process.stderr.write(`\r${' '.repeat(BAR + 24)}\r`);
  }
}
