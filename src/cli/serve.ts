import { fileURLToPath } from 'node:url';
import { type Logger, pino } from 'pino';
import type { Config } from '../config/config.js';
import { loadSettings, type Settings } from '../config/load.js';
import { type Clock, systemClock } from '../core/clock.js';
import { Fault, type FaultCode } from '../core/fault.js';
import { openLink } from '../device/link.js';
import { startDaemon } from '../pipeline/daemon.js';
import { findRun } from '../runs/folder.js';
import { RunFile } from '../runs/runFile.js';
import { buildApp } from '../server/app.js';
import type { FeedSource } from '../server/feedSource.js';
import type { SettingsSource } from '../server/settingsPlugin.js';
import { addressHolder } from './addressHolder.js';
import { helloFacts, perceptionSetting } from './compose.js';
import { LiveSettings } from './liveSettings.js';
import { RecordingDesk } from './recording.js';
import { replaySettings } from './replay.js';
import { ReplayFeeds } from './replayFeeds.js';
import { RunsDesk } from './runsDesk.js';
import { sensorLayout } from './sensorLayout.js';
import { openSource } from './source.js';

const STOP_MAX_MS = 1800; // the contract gives 2 s to end in
const BUG = 1;
const WEB_ROOT = fileURLToPath(new URL('../web', import.meta.url)); // the built page, beside this folder in dist

/**
 * `leeway serve`: the daemon, until SIGINT or SIGTERM. Logs JSON lines on standard output; trouble with the sensor never ends it.
 *
 * @param file path of the configuration. @param sets `KEY=VALUE`. @param version of the program.
 * @throws {Fault} of the configuration; LAYOUT_NOT_FOUND; ADDRESS_TAKEN, ADDRESS_BAD, ADDRESS_NO_PERMISSION.
 */
export async function serve(file: string | undefined, sets: readonly string[], version: string): Promise<void> {
  const stopped = firstSignal();
  const settings = loadSettings(file, sets);
  const { config } = settings;
  const clock = systemClock();
  const log = pino();
  const end = (error: unknown): void => {
    log.fatal({ err: error }, 'bug');
    process.exit(BUG); // the supervisor starts it anew
  };
  process.on('uncaughtException', end);

  const start = { file, sets, settings, version, clock, log };
  const daemon = config.sensor.source === 'run' ? startReplay(start) : await startLive(start, end);
  const app = await buildApp({
    feeds: daemon.feeds,
    runs: new RunsDesk({ folder: config.runs.folder, file, sets, version, clock }),
    ...(daemon.settings && { settings: daemon.settings }),
    setting: config.server,
    state: daemon.state,
    webRoot: WEB_ROOT,
    clock,
    log,
  });
  try {
    await app.listen({ host: config.server.host, port: config.server.port });
  } catch (error) {
    await Promise.all([app.close(), daemon.stop()]);
    throw listenFault(error, config);
  }
  const address = app.server.address();
  const url = urlOf(
    config.server.host,
    typeof address === 'object' && address !== null ? address.port : config.server.port,
  );
  log.info({ url }, 'listening');
  if (process.stderr.isTTY) process.stderr.write(`Dashboard: ${url}\n`);

  log.info({ signal: await stopped }, 'stopping');
  const late = setTimeout(() => {
    log.fatal('stopping took too long');
    process.exit(BUG);
  }, STOP_MAX_MS);
  await Promise.all([app.close(), daemon.stop()]);
  log.info('stopped');
  late.unref(); // the process ends when nothing is left to do; what is left after all is a bug, and `late` says so
}

interface Start {
  readonly file: string | undefined;
  readonly sets: readonly string[];
  readonly settings: Settings;
  readonly version: string;
  readonly clock: Clock;
  readonly log: Logger;
}

/** What serves: feeds, whether they vouch for anything, and how it ends. */
interface Serving {
  readonly feeds: FeedSource;
  readonly settings?: SettingsSource;
  state(): Readonly<{ ready: boolean; code?: FaultCode }>;
  stop(): Promise<void>;
}

/** The senses on a serial line or on the simulator, recorded where that is asked for. */
async function startLive(
  { file, settings, version, clock, log }: Start,
  onBug: (error: unknown) => void,
): Promise<Serving> {
  const { config } = settings;
  const layout = sensorLayout(config.sensor);
  const { port, drive } = await openSource(config, layout, clock);
  log.info(
    { version, config: file ?? 'defaults', source: config.sensor.source, port: port.name, layout: layout.name },
    'starting',
  );
  const desk = new RecordingDesk(port, settings, layout, version, clock);
  const live = new LiveSettings(config, file);
  const daemon = startDaemon(
    {
      link: openLink(desk.port, layout, live.sensor, clock),
      clearance: live.clearance,
      perception: perceptionSetting(config),
      hello: helloFacts(config, version),
      clock,
      log,
      desk,
      ...(drive && { drive }),
    },
    onBug,
  );
  daemon.feeds.messages.subscribe({ next: (message) => desk.hear(message), error: () => {} }); // its error is told to onBug
  return {
    feeds: daemon.feeds,
    settings: live,
    state: () => daemon.state(),
    stop: async () => {
      await Promise.all([daemon.stop(), desk.stop()]);
    },
  };
}

/** The senses on a recorded run. @throws {Fault} RUN_NOT_FOUND and what a run can lack; of its settings. */
function startReplay({ file, sets, settings, version, clock, log }: Start): Serving {
  const { runs } = settings.config;
  const run = new RunFile(findRun(runs.folder, runs.play));
  const played = replaySettings(run, file, sets);
  log.info({ version, config: file ?? 'defaults', source: 'run', run: run.about.name, pace: runs.pace }, 'starting');
  const feeds = new ReplayFeeds({
    ...{ run, settings: played, version, clock, pace: runs.pace, neededRole: 'drive' },
  });
  return { feeds, state: () => feeds.state(), stop: () => feeds.stop() };
}

/** Resolves with the first SIGINT or SIGTERM. A second one ends the process at once. */
function firstSignal(): Promise<string> {
  return new Promise((resolve) => {
    let isStopping = false;
    const hear = (signal: string, number: number): void => {
      if (isStopping) process.exit(128 + number); // as shells tell it
      isStopping = true;
      resolve(signal);
    };
    process.on('SIGINT', hear);
    process.on('SIGTERM', hear);
  });
}

function listenFault(error: unknown, { server }: Config): unknown {
  if (!(error instanceof Error && 'code' in error)) return error;
  const facts = { host: server.host, port: server.port };
  switch (error.code) {
    case 'EADDRINUSE': {
      const holder = addressHolder(server.port);
      return new Fault('ADDRESS_TAKEN', holder === undefined ? facts : { ...facts, holder }, error);
    }
    case 'EACCES':
      return new Fault('ADDRESS_NO_PERMISSION', facts, error);
    case 'EADDRNOTAVAIL':
    case 'EINVAL':
    case 'ENOTFOUND':
    case 'EAI_AGAIN':
    case 'EAFNOSUPPORT':
      return new Fault('ADDRESS_BAD', { ...facts, reason: error.message }, error);
    default:
      return error;
  }
}

/** @returns an address that this machine can open; one that stands for all of them cannot. */
function urlOf(host: string, port: number): string {
  const open = host === '0.0.0.0' ? '127.0.0.1' : host === '::' ? '::1' : host;
  return `http://${open.includes(':') ? `[${open}]` : open}:${port}`;
}
