// Plays one run for one client in a thread of its own: perception of a replay takes no time from the senses that are live.
import { parentPort, workerData } from 'node:worker_threads';
import { systemClock } from '../core/clock.js';
import type { ClientMessage } from '../messages/codec.js';
import type { Format } from '../pipeline/feedMessage.js';
import { RunFile } from '../runs/runFile.js';
import { replaySettings } from './replay.js';
import { ReplayFeeds } from './replayFeeds.js';

/** What the thread is started with. */
export interface ReplayTask {
  readonly path: string;
  readonly file: string | undefined;
  readonly sets: readonly string[];
  readonly version: string;
  readonly format: Format;
}

/** What the thread tells: messages of the feeds. */
export interface ReplayedMessage {
  readonly feed: number;
  readonly sequence: number;
  readonly urgent: boolean;
  readonly bytes: Uint8Array | string;
}

/** What it is told: a client's wish with its role. */
export interface ReplayWish {
  readonly body: ClientMessage;
  readonly role: string;
}

const port = parentPort;
if (port !== null) {
  const { path, file, sets, version, format } = workerData as ReplayTask;
  const run = new RunFile(path);
  const feeds = new ReplayFeeds({
    ...{ run, settings: replaySettings(run, file, sets), version, clock: systemClock(), pace: 1, neededRole: 'watch' },
  });
  feeds.messages.subscribe((message) => {
    const { feed, sequence, urgent } = message;
    const made = message.bytes(format);
    const bytes = typeof made === 'string' ? made : new Uint8Array(made); // of its own: else what it was cut from goes along
    port.postMessage({ feed, sequence, urgent, bytes } satisfies ReplayedMessage);
  });
  port.on('message', (wish: ReplayWish) => {
    feeds.act({ kind: 'other', body: wish.body }, wish.role);
  });
}
