import { Worker } from 'node:worker_threads';
import { NEVER, type Observable, Subject } from 'rxjs';
import type { Clock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import { helloMessage } from '../messages/toMessage.js';
import { FeedMessage, type Format } from '../pipeline/feedMessage.js';
import { type Request, readRequest } from '../pipeline/feeds.js';
import { namedRun } from '../runs/folder.js';
import { RunFile } from '../runs/runFile.js';
import type { FeedMessage as SentMessage } from '../server/feedSource.js';
import type { PlayedRun, RunsSource } from '../server/runsSource.js';
import { helloFacts } from './compose.js';
import { replaySettings } from './replay.js';
import type { ReplayedMessage, ReplayTask, ReplayWish } from './replayThread.js';
import type { RunsAnswer, RunsQuestion } from './runsThread.js';

const PLAYING_MAX = 4; // each has a thread, and at 1x some hundredths of a core

/** What the desk must know of the daemon. */
export interface DeskParts {
  readonly folder: string;
  /** Configuration file and sets that lie over the settings of a run's day. */
  readonly file: string | undefined;
  readonly sets: readonly string[];
  readonly version: string;
  readonly clock: Clock;
}

/** The runs of a folder for the clients of a daemon. Reading and playing are done in threads: what is live comes first. */
export class RunsDesk implements RunsSource {
  readonly #parts: DeskParts;
  readonly #waiting = new Map<number, { resolve(found: object): void; reject(fault: Fault): void }>();
  #reader: Worker | undefined;
  #asked = 0;
  #playing = 0;

  constructor(parts: DeskParts) {
    this.#parts = parts;
  }

  list(): Promise<object> {
    return this.#ask({});
  }

  show(name: string): Promise<object> {
    return this.#ask({ name });
  }

  play(name: string, format: Format): PlayedRun {
    const { folder, file, sets, version, clock } = this.#parts;
    if (this.#playing >= PLAYING_MAX) throw new Fault('RUNS_PLAYING_FULL', { playing_max: PLAYING_MAX });
    const path = namedRun(folder, name);
    const run = new RunFile(path); // here, where a Fault is still an answer
    const { config } = replaySettings(run, file, sets);
    const { about } = run;
    run.close();
    const facts = { ...helloFacts(config, version), source: 'run', rover: about.rover, run: about.name };
    const hello = (role: string): FeedMessage => {
      const now = clock.now();
      return new FeedMessage(0, { sequence: 0, timeS: now, sentS: now, hello: helloMessage(facts, role) });
    };
    this.#playing++;
    return new RemoteReplay({ path, file, sets, version, format }, hello, () => this.#playing--);
  }

  #ask(question: Omit<RunsQuestion, 'id' | 'folder'>): Promise<object> {
    this.#reader ??= this.#startReader();
    const id = ++this.#asked;
    const answer = new Promise<object>((resolve, reject) => this.#waiting.set(id, { resolve, reject }));
    this.#reader.postMessage({ id, folder: this.#parts.folder, ...question } satisfies RunsQuestion);
    return answer;
  }

  #startReader(): Worker {
    const reader = new Worker(new URL('./runsThread.js', import.meta.url));
    reader.unref(); // it never holds up the end
    reader.on('message', (answer: RunsAnswer) => {
      const waiting = this.#waiting.get(answer.id);
      this.#waiting.delete(answer.id);
      if ('found' in answer) waiting?.resolve(answer.found);
      else waiting?.reject(new Fault(answer.code, answer.facts));
    });
    reader.on('error', (error) => {
      throw error; // a bug
    });
    return reader;
  }
}

/** A run played in a thread, as feeds of one client. */
class RemoteReplay implements PlayedRun {
  readonly messages: Observable<SentMessage>;
  readonly helloChanged: Observable<void> = NEVER;
  readonly #out = new Subject<SentMessage>();
  readonly #newest = new Map<number, SentMessage>();
  readonly #hello: (role: string) => FeedMessage;
  readonly #thread: Worker;
  readonly #left: () => void;
  #isStopped = false;

  constructor(task: ReplayTask, hello: (role: string) => FeedMessage, left: () => void) {
    this.messages = this.#out;
    this.#hello = hello;
    this.#left = left;
    this.#thread = new Worker(new URL('./replayThread.js', import.meta.url), { workerData: task });
    this.#thread.unref();
    this.#thread.on('message', ({ feed, sequence, urgent, bytes }: ReplayedMessage) => {
      const message = { feed, sequence, urgent, bytes: () => bytes };
      this.#newest.set(feed, message);
      this.#out.next(message);
    });
    this.#thread.on('error', () => this.#out.complete()); // what one run does to the program is not the live senses' business
  }

  newest(feed: number): SentMessage | undefined {
    return this.#newest.get(feed);
  }

  hello(role: string): FeedMessage {
    return this.#hello(role);
  }

  read(format: Format, data: Uint8Array | string): Request {
    return readRequest(format, data);
  }

  /** @throws {Fault} LIMIT_EXCEEDED. */
  act(request: Request, role: string): void {
    if (request.kind !== 'other' || !request.body.replay) return;
    const { pace, atS } = request.body.replay;
    if (typeof pace === 'number' && !(pace >= 0 && pace <= 1000)) throw new Fault('LIMIT_EXCEEDED', { pace });
    if (typeof atS === 'number' && !Number.isFinite(atS)) throw new Fault('LIMIT_EXCEEDED', { at_s: atS });
    this.#thread.postMessage({ body: request.body, role } satisfies ReplayWish);
  }

  async stop(): Promise<void> {
    if (this.#isStopped) return;
    this.#isStopped = true;
    this.#left();
    this.#out.complete();
    await this.#thread.terminate();
  }
}
