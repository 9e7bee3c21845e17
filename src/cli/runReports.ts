import { execFileSync } from 'node:child_process';
import { existsSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Config } from '../config/config.js';
import { loadConfig } from '../config/load.js';
import { Fault } from '../core/fault.js';
import { findRun, sizeOf } from '../runs/folder.js';
import { comparePage, differences, onlyIn, type Way } from '../runs/report/compare.js';
import { timeText } from '../runs/report/drawing.js';
import { ReportGatherer, type ReportSetting } from '../runs/report/gather.js';
import { reportPage } from '../runs/report/page.js';
import { damageOf, RunFile } from '../runs/runFile.js';
import { Timeline } from '../runs/timeline.js';
import { timelineSetting } from './compose.js';
import { playThrough } from './playThrough.js';
import { replaySettings } from './replay.js';
import type { RunsOptions } from './runs.js';

const BROWSERS = ['chromium', 'chromium-browser', 'google-chrome', 'microsoft-edge'];

/** `leeway runs report`: a page that needs nothing but itself. @throws {Fault} RUN_...; OUTPUT_UNWRITABLE; BROWSER_MISSING. */
export async function runsReport(
  name: string,
  { config, set = [], out, pdf }: RunsOptions & { readonly out?: string; readonly pdf?: string },
  version: string,
): Promise<void> {
  const path = findRun(loadConfig(config, set).runs.folder, name);
  const run = new RunFile(path);
  const settings = replaySettings(run, config, set);
  const setting = reportSetting(settings.config);
  const gatherer = new ReportGatherer(setting);
  await playThrough(run, settings, version, ({ message }) => gatherer.push(message));
  const { about, until, events } = run;
  const wallLead = Number(events.findLast(({ kind }) => kind === 'clock')?.text ?? about.wall_lead_s);
  const changed = [...(config === undefined ? [] : [config]), ...set.filter((each) => !each.startsWith('runs.'))];
  const facts = { about, until, wallLead, bytes: sizeOf(path), version, changed };
  const html = reportPage(gatherer.finish(events), setting, facts);
  const damage = damageOf(run);
  run.close();
  const file = out ?? `${about.name}.html`;
  write(file, html);
  process.stdout.write(`${file}\n`);
  if (pdf !== undefined) {
    print(file, pdf);
    process.stdout.write(`${pdf}\n`);
  }
  if (damage) throw damage; // the page shows what could be read
}

/** `leeway runs compare`: two settings over one run. @param wish what B has otherwise than A. @throws {Fault} as {@link runsReport}. */
export async function runsCompare(
  name: string,
  {
    config,
    set = [],
    out,
    json,
    ...wish
  }: RunsOptions & { readonly out?: string; readonly with?: readonly string[]; readonly withConfig?: string },
  version: string,
): Promise<void> {
  const other = wish.with ?? [];
  if (other.length === 0 && wish.withConfig === undefined)
    throw new Fault('USAGE_WRONG', { reason: 'nothing to compare with: give --with KEY=VALUE or --with-config FILE' });
  const path = findRun(loadConfig(config, set).runs.folder, name);
  const a = await way(path, 'the settings of the day', config, set, version);
  const b = await way(
    path,
    [wish.withConfig, ...other].filter(Boolean).join(', '),
    wish.withConfig ?? config,
    [...set, ...other],
    version,
  );
  const run = new RunFile(path);
  const { about, until } = run;
  run.close();
  if (json)
    process.stdout.write(
      `${JSON.stringify({ run: about.name, differences: differences(a, b), onlyA: onlyIn(a, b), onlyB: onlyIn(b, a) })}\n`,
    );
  else {
    for (const { what, unit, a: left, b: right, digits } of differences(a, b))
      process.stdout.write(
        `${what.padEnd(30)} ${left.toFixed(digits).padStart(10)} ${right.toFixed(digits).padStart(10)} ${unit}\n`,
      );
    for (const [label, events] of [
      ['A', onlyIn(a, b)],
      ['B', onlyIn(b, a)],
    ] as const)
      for (const { at, kind, text } of events)
        process.stdout.write(`${label} only  ${timeText(at - about.began_s).padStart(8)}  ${kind}  ${text}\n`);
  }
  if (out === undefined) return;
  write(out, comparePage(about.name, a, b, about.began_s, until));
  process.stdout.write(`${out}\n`);
}

async function way(
  path: string,
  name: string,
  config: string | undefined,
  set: readonly string[],
  version: string,
): Promise<Way> {
  const run = new RunFile(path);
  const settings = replaySettings(run, config, set);
  const timeline = new Timeline(timelineSetting(settings.config));
  await playThrough(run, settings, version, ({ message }) => timeline.push(message));
  run.close();
  return { name, driven: timeline.driven, ...timeline.take() };
}

function reportSetting(config: Config): ReportSetting {
  return { ...timelineSetting(config), noise: config.sensor.noise };
}

function write(file: string, text: string): void {
  try {
    writeFileSync(file, text);
  } catch (cause) {
    if (!(cause instanceof Error && 'code' in cause)) throw cause;
    throw new Fault('OUTPUT_UNWRITABLE', { output: file, reason: cause.message }, cause);
  }
}

/** Prints a page to PDF through a browser that is there. */
function print(html: string, pdf: string): void {
  const folders = (process.env.PATH ?? '').split(':');
  const browser = BROWSERS.flatMap((each) => folders.map((folder) => `${folder}/${each}`)).find((file) =>
    existsSync(file),
  );
  if (browser === undefined) throw new Fault('BROWSER_MISSING', { looked_for: BROWSERS.join(', ') });
  const flags = ['--headless', '--no-sandbox', '--disable-gpu', '--no-first-run', '--no-pdf-header-footer'];
  try {
    execFileSync(browser, [...flags, `--print-to-pdf=${resolve(pdf)}`, pathToFileURL(resolve(html)).href], {
      stdio: 'ignore',
      timeout: 60_000,
    });
  } catch (cause) {
    throw new Fault(
      'OUTPUT_UNWRITABLE',
      { output: pdf, reason: cause instanceof Error ? cause.message : String(cause) },
      cause,
    );
  }
}
