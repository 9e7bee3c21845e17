import { writeFileSync } from 'node:fs';
import { dirname, relative, resolve } from 'node:path';
import { compare } from '../bringup/compare.js';
import { type Examination, examine } from '../bringup/examine.js';
import type { Look } from '../bringup/look.js';
import { unreadFinding } from '../bringup/unread.js';
import type { Config } from '../config/config.js';
import { loadConfig } from '../config/load.js';
import { type Setting, writeSettings } from '../config/write.js';
import { type Clock, systemClock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import { builtInLayouts } from '../device/layouts/builtIn.js';
import type { Layout } from '../device/layouts/layout.js';
import type { SensorSetting } from '../device/setting.js';
import { DEFAULT_NOISE } from '../estimate/noise.js';
import { Outline } from '../geometry/outline.js';
import { Bench } from './check/bench.js';
import { Guide } from './check/guide.js';
import { aimMeasure, levelMeasure, type Measure, type Measured, maskMeasure, tapeMeasure } from './check/measures.js';
import { optionsTold } from './check/options.js';
import { readBaseline, reportPage } from './check/report.js';
import { type Told, toJson, toText } from './check/tell.js';
import { sensorLayout } from './sensorLayout.js';
import { openSource } from './source.js';

const EXIT_FOUND = 3;
const SECONDS = 10;
/** A sensor may need some seconds after power comes on. */
const PATIENCE = 5;
const SIGNALS = { SIGINT: 130, SIGTERM: 143 } as const; // 128 + the signal's number, as shells have it

/** What `leeway check` was asked for; lengths m, bearing rad. */
export interface CheckWish {
  readonly config: string | undefined;
  readonly sets: readonly string[];
  readonly isJson: boolean;
  readonly isYes: boolean;
  readonly seconds: number | undefined;
  readonly what: 'all' | 'aim' | 'level' | 'mask' | 'tape';
  readonly tapes: readonly number[];
  readonly bearing: number;
  readonly write: string | undefined;
  readonly report: string | undefined;
}

/**
 * `leeway check`: looks at the sensor and says what is wrong and what to do. Exit code 3 where it found something.
 * @throws {Fault} of the configuration, of a port that does not open, of a file that cannot be written; STEP_UNCLEAR.
 */
export async function check(wish: CheckWish): Promise<void> {
  const config = loadConfig(wish.config, wish.sets);
  const baseline =
    config.sensor.baseline === undefined || wish.report !== undefined
      ? undefined
      : readBaseline(config.sensor.baseline);
  const table = new Table(config, wish);
  const stops = Object.entries(SIGNALS).map(([signal, code]) => {
    const stop = (): void => void table.clear().finally(() => process.exit(code));
    process.once(signal, stop); // a second one ends it at once, as by default
    return () => process.off(signal, stop);
  });
  try {
    const told = await table.run(baseline);
    process.stdout.write(wish.isJson ? toJson(told) : toText(told));
    if (told.findings.length > 0) process.exitCode = EXIT_FOUND;
  } finally {
    await table.clear();
    for (const off of stops) off();
  }
}

/** One check, from opening the port to what there is to tell. */
class Table {
  readonly #config: Config;
  readonly #wish: CheckWish;
  readonly #layout: Layout;
  readonly #clock: Clock = systemClock();
  readonly #measure: Measure | undefined;
  readonly #guide: Guide;
  #port = '';
  #bench: Bench | undefined;

  constructor(config: Config, wish: CheckWish) {
    this.#config = config;
    this.#wish = wish;
    const own = sensorLayout({ ...config.sensor, baud: undefined });
    const layout = sensorLayout(config.sensor);
    // a slower line carries fewer samples; a faster one more only where such sensors are known
    const isKnown = layout.baud < own.baud || own.otherBauds?.includes(layout.baud) === true;
    this.#layout = isKnown ? layout : { ...layout, samplesPerSecond: own.samplesPerSecond };
    this.#measure = measureOf(config, wish);
    this.#guide = new Guide(this.#measure?.steps ?? 0, wish.isYes);
  }

  /** Stops the sensor, closes the port and the input. */
  async clear(): Promise<void> {
    this.#guide.close();
    await this.#bench?.close();
    this.#bench = undefined;
  }

  async run(baseline: ReturnType<typeof readBaseline> | undefined): Promise<Told> {
    const seconds = this.#wish.seconds ?? SECONDS;
    const hindrance = await this.#start();
    if (hindrance !== undefined) return this.#tell({ findings: [hindrance], settings: lineSettings(hindrance) });
    const bench = this.#bench;
    if (bench === undefined) throw new TypeError('check: no bench after the start');
    if (this.#measure !== undefined) {
      const measured = await this.#measure.run(bench, this.#guide);
      return this.#tell({
        measured,
        findings: [...(measured.off ? [measured.off] : []), ...measured.findings],
        settings: measured.settings,
      });
    }
    this.#guide.say(`Looking for ${seconds} s at ${this.#port}.`);
    const look = await bench.look(seconds);
    if (look.sweeps.length === 0) {
      const spin = new Fault('SPIN_SLOW', { text: `no whole revolution came within ${seconds} s` });
      return this.#tell({ look, findings: [spin], settings: [] });
    }
    const outline = new Outline(this.#config.rover.outline);
    const examination = examine(look, outline, DEFAULT_NOISE);
    const worse = baseline && compare(examination.figures, baseline, DEFAULT_NOISE);
    const { layoutOptions } = this.#config.sensor;
    const options = optionsTold(
      bench.bytes,
      sensorLayout({ ...this.#config.sensor, layoutOptions: {} }),
      layoutOptions,
    );
    const findings = [...examination.findings, ...(options?.findings ?? []), ...(worse ? [worse] : [])];
    const whole = { ...examination, findings, items: [...examination.items, ...(options ? [options.item] : [])] };
    const settings = [...(options?.settings ?? []), ...this.#report(look, whole, outline)];
    return this.#tell({ look, examination: whole, findings, settings });
  }

  /** Opens the port and waits for samples. @returns why none come. */
  async #start(): Promise<Fault | undefined> {
    const { sensor } = this.#config;
    const hindrance = await this.#open(1);
    if (hindrance === undefined) return undefined;
    const port = this.#port;
    if (hindrance === 'stalled') return new Fault('SPIN_STALLED', { port });
    if (hindrance === 'still') return new Fault('MOTOR_STILL', { port });
    await this.#bench?.close();
    this.#bench = undefined;
    if (sensor.source !== 'serial') return new Fault('PORT_SILENT', { port });
    this.#guide.say('Nothing can be read yet: trying other rates and layouts.');
    const { probeLine } = await import('../device/probe.js');
    const { SerialLine } = await import('../device/serialPort.js');
    const openAt = (baud: number): InstanceType<typeof SerialLine> => new SerialLine(port, baud, this.#clock);
    const found = await probeLine(openAt, layoutsWith(this.#layout), this.#layout.baud, this.#clock);
    const finding = unreadFinding({ port, layout: this.#layout.name, baud: this.#layout.baud, found });
    if (finding !== undefined && finding.code !== 'PORT_SILENT') return finding;
    const again = await this.#open(PATIENCE); // it sends after all, or was slow to wake up
    if (again === undefined) return undefined;
    return finding ?? new Fault('LAYOUT_NOT_LOCKED', { port, layout: this.#layout.name, baud: this.#layout.baud });
  }

  async #open(patience: number): ReturnType<Bench['ready']> {
    const { port } = await openSource(this.#config, this.#layout, this.#clock);
    this.#port = port.name;
    const setting: SensorSetting = this.#measure?.setting ?? this.#config.sensor;
    this.#bench = new Bench(port, this.#layout, setting, this.#clock);
    return await this.#bench.ready(patience);
  }

  /** Writes the report. @returns what the configuration needs to find it again. */
  #report(look: Look, examination: Examination, outline: Outline): Setting[] {
    const { report, write } = this.#wish;
    if (report === undefined) return [];
    const page = reportPage({
      rover: this.#config.rover.name,
      port: this.#port,
      date: new Date().toISOString(),
      look,
      examination,
      outline,
      noise: DEFAULT_NOISE,
    });
    try {
      writeFileSync(report, page);
    } catch (cause) {
      if (!(cause instanceof Error && 'code' in cause)) throw cause;
      throw new Fault('OUTPUT_UNWRITABLE', { output: report, reason: cause.message }, cause);
    }
    const from = dirname(resolve(write ?? '.'));
    return [{ path: ['sensor', 'baseline'], value: relative(from, resolve(report)) }];
  }

  #tell(parts: {
    look?: Look;
    examination?: Examination;
    measured?: Measured;
    findings: readonly Fault[];
    settings: readonly Setting[];
  }): Told {
    const { look, examination, measured } = parts;
    const { write, report } = this.#wish;
    const settings = [...this.#sourceSettings(), ...parts.settings];
    const isStored = write !== undefined && settings.length > 0;
    if (isStored) writeSettings(write, settings);
    return {
      port: this.#port,
      layout: this.#layout.name,
      baud: this.#layout.baud,
      seconds: look === undefined ? 0 : look.ended - look.settledAt,
      items: examination?.items ?? [],
      findings:
        isStored && measured?.off ? parts.findings.filter((finding) => finding !== measured.off) : parts.findings,
      remarks: (look?.remarks ?? []).filter(({ code }) => !parts.findings.some((finding) => finding.code === code)),
      ...(examination && { figures: examination.figures }),
      ...(measured && this.#measure && { measured: { name: this.#measure.name, ...measured } }),
      ...(isStored && { stored: { file: write, keys: settings.map(({ path }) => path.join('.')) } }),
      ...(report !== undefined && examination !== undefined && { report }),
    };
  }

  /** What was given by --set goes into a new file too, or it would have to be given for ever. */
  #sourceSettings(): Setting[] {
    const { source, port, layout, baud } = this.#config.sensor;
    if (this.#wish.sets.length === 0) return [];
    const all = { source, port, layout, baud };
    return Object.entries(all)
      .filter(([key, value]) => value !== undefined && this.#wish.sets.some((set) => set.startsWith(`sensor.${key}=`)))
      .map(([key, value]) => ({ path: ['sensor', key], value }));
  }
}

function measureOf(config: Config, { what, tapes, bearing, seconds }: CheckWish): Measure | undefined {
  switch (what) {
    case 'aim':
      return aimMeasure(config);
    case 'level':
      return levelMeasure(config, seconds);
    case 'mask':
      return maskMeasure(config);
    case 'tape':
      return tapeMeasure(config, tapes, bearing);
    default:
      return undefined;
  }
}

/** The built-in layouts; the configured one as it is configured. */
function layoutsWith(layout: Layout): Layout[] {
  return [layout, ...builtInLayouts.filter(({ name }) => name !== layout.name)];
}

/** @returns what to store where another rate or layout was found. */
function lineSettings({ code, facts }: Fault): Setting[] {
  if (code !== 'BAUD_WRONG' && code !== 'LAYOUT_OTHER') return [];
  return [
    { path: ['sensor', 'baud'], value: facts.baud },
    ...(code === 'LAYOUT_OTHER' ? [{ path: ['sensor', 'layout'], value: facts.layout }] : []),
  ];
}
