import { fileURLToPath } from 'node:url';
import { pino } from 'pino';
import type { Config } from '../config/config.js';
import { loadConfig } from '../config/load.js';
import { systemClock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import { openLink } from '../device/link.js';
import { startDaemon } from '../pipeline/daemon.js';
import { buildApp } from '../server/app.js';
import { addressHolder } from './addressHolder.js';
import { clearanceSetting, helloFacts, perceptionSetting } from './compose.js';
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
  const config = loadConfig(file, sets);
  const layout = sensorLayout(config.sensor);
  const clock = systemClock();
  const { port, drive } = await openSource(config, layout, clock);
  const log = pino();
  const end = (error: unknown): void => {
    log.fatal({ err: error }, 'bug');
    process.exit(BUG); // the supervisor starts it anew
  };
  process.on('uncaughtException', end);

  log.info(
    { version, config: file ?? 'defaults', source: config.sensor.source, port: port.name, layout: layout.name },
    'starting',
  );
  const link = openLink(port, layout, config.sensor, clock);
  const daemon = startDaemon(
    {
      link,
      clearance: clearanceSetting(config),
      perception: perceptionSetting(config),
      hello: helloFacts(config, version),
      clock,
      log,
      ...(drive && { drive }),
    },
    end,
  );
  const app = await buildApp({
    feeds: daemon.feeds,
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
