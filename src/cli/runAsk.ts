import { type ClientMessage, connect, type RunEvent } from '#client';
import { Fault, faultCodes } from '../core/fault.js';
import { readAddress, readToken } from './watch.js';

/** Where the daemon is and how it lets this client in. */
export interface AskOptions {
  readonly url: string;
  readonly tokenFile?: string;
}

const WITHIN_MS = 5000;

/**
 * `leeway runs start`, `stop` and `mark`: asks a daemon that is running, and waits until it says that it is so.
 * @param isDone told by the state of the run or by what happened to it.
 * @returns what it said. @throws {Fault} USAGE_WRONG, TOKEN_FILE_UNREADABLE, DAEMON_SILENT; what it refused with.
 */
export async function askDaemon(
  { url, tokenFile }: AskOptions,
  message: ClientMessage,
  isDone: (run: RunEvent) => boolean,
): Promise<RunEvent> {
  const address = readAddress(url);
  const token = readToken(tokenFile);
  const rover = connect(address.href, { wants: ['run'], ...(token === undefined ? {} : { token }) });
  try {
    return await new Promise<RunEvent>((resolve, reject) => {
      const late = setTimeout(() => reject(new Fault('DAEMON_SILENT', { url: address.href })), WITHIN_MS);
      let isAsked = false;
      rover.on('run', (run) => {
        if (!isAsked) {
          isAsked = true; // the state before it: then nothing of the answer is missed
          if (!rover.send(message)) return;
        }
        const refused = run.what === 'refused' ? faultCodes().find((code) => code === run.text) : undefined;
        if (refused === undefined && !isDone(run)) return;
        clearTimeout(late);
        if (refused) reject(new Fault(refused));
        else resolve(run);
      });
    });
  } finally {
    rover.close();
  }
}

/** Starts a run. */
export async function runsStart(options: AskOptions & { readonly title?: string }): Promise<void> {
  const isRefused = ({ what, text }: RunEvent): boolean => what === 'stopped' && text !== '';
  const run = await askDaemon(
    options,
    { record: { on: true, title: options.title ?? '' } },
    (event) => event.state === 'recording' || isRefused(event),
  );
  if (isRefused(run)) throw new Fault(faultCodes().find((code) => code === run.text) ?? 'RUN_UNWRITABLE');
  process.stdout.write(`recording ${run.run}\n`);
}

/** Stops the run being recorded. */
export async function runsStop(options: AskOptions): Promise<void> {
  const run = await askDaemon(options, { record: { on: false } }, ({ state }) => state === 'idle');
  process.stdout.write(`${run.run === '' ? 'nothing is recorded' : `stopped ${run.run}`}\n`);
}

/** Puts a note into the run being recorded. */
export async function runsMark(text: string, options: AskOptions): Promise<void> {
  const run = await askDaemon(options, { mark: { text } }, (event) => event.what === 'mark' && event.text === text);
  process.stdout.write(`marked ${run.run}\n`);
}
