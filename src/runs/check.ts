import { existsSync, renameSync } from 'node:fs';
import { DatabaseSync } from 'node:sqlite';
import { Fault } from '../core/fault.js';
import { removeRun, runNameOf } from './folder.js';
import { CREATE, MOMENT_COLUMNS } from './format.js';
import { changeRun, RunFile } from './runFile.js';

/** What a look at every block found. */
export interface RunCheck {
  readonly version: number;
  readonly blocks: number;
  /** Of the sensor, that can be read. */
  readonly rawBytes: number;
  /** s */
  readonly length: number;
  /** In words; empty: sound. */
  readonly findings: readonly string[];
}

const GAP = 2; // s between blocks that only a sensor which said nothing explains

/** Reads every block of a run. @throws {Fault} RUN_... where nothing can be read at all. */
export function checkRun(path: string): RunCheck {
  const run = new RunFile(path);
  try {
    const findings: string[] = [];
    let blocks = 0;
    let rawBytes = 0;
    let last = 0;
    let gaps = 0;
    for (let block = run.block(0); block !== undefined; block = run.block(block.atUs + 1)) {
      blocks++;
      if (blocks > 1 && block.atUs - last > GAP * 1e6) gaps++;
      last = block.entries.at(-1)?.atUs ?? block.atUs;
      for (const { kind, payload } of block.entries) if (kind === 0) rawBytes += payload.length;
    }
    const lost = run.events.filter(({ kind }) => kind === 'lost_bytes').length;
    const { damage, about } = run;
    if (about.ended_s === undefined) findings.push('its end is missing: it was cut off, or is being recorded');
    if (damage.badBlocks > 0) findings.push(`${damage.badBlocks} blocks do not match their check`);
    if (damage.unreadable > 0) findings.push(`${damage.unreadable} places of the file cannot be read`);
    if (gaps > 0 && damage.badBlocks + damage.unreadable > 0)
      findings.push(`${gaps} gaps of more than ${GAP} s between what can be read`);
    if (lost > 0) findings.push(`the disk could not keep up ${lost} times: bytes are missing there`);
    for (const text of run.quickCheck().slice(0, 3)) findings.push(`SQLite says: ${text}`);
    return { version: run.version, blocks, rawBytes, length: Math.max(0, run.until - about.began_s), findings };
  } finally {
    run.close();
  }
}

/**
 * Makes a run whole: one that was cut off gets its end; of a damaged one, what can be read goes into a new file in its place, and
 * the old one stays beside it as NAME.run.damaged.
 * @returns what was done, in words. @throws {Fault} RUN_...
 */
export function repairRun(path: string): string {
  const { findings } = checkRun(path);
  if (findings.length === 0) return 'nothing to repair';
  const run = new RunFile(path);
  const isWhole = run.quickCheck().length === 0;
  const until = endOf(run);
  const damagedBefore = run.damage.badBlocks + run.damage.unreadable;
  run.close();
  if (isWhole && damagedBefore === 0) {
    const database = new DatabaseSync(path);
    database.exec('PRAGMA wal_checkpoint(TRUNCATE)');
    database.exec('PRAGMA journal_mode = DELETE');
    database.close();
    changeRun(path, { ended_s: until });
    return `${runNameOf(path)} is whole again`;
  }
  const aside = `${path}.damaged`;
  if (existsSync(aside)) throw new Fault('RUN_UNWRITABLE', { run: path, reason: `${aside} is already there` });
  const saved = `${path}.repaired`;
  const kept = copyReadable(path, saved);
  renameSync(path, aside);
  removeRun(path);
  renameSync(saved, path);
  return `${kept} blocks saved in ${runNameOf(path)}; the damaged file is ${aside}`;
}

function endOf(run: RunFile): number {
  let last = 0;
  for (let block = run.block(0); block !== undefined; block = run.block(block.atUs + 1))
    last = block.entries.at(-1)?.atUs ?? last;
  return run.about.began_s + last / 1e6;
}

/** @returns how many blocks. */
function copyReadable(from: string, to: string): number {
  const run = new RunFile(from);
  removeRun(to);
  const database = new DatabaseSync(to);
  for (const step of CREATE) database.exec(step);
  database.exec('BEGIN');
  const about = database.prepare('INSERT INTO about VALUES (?, ?)');
  for (const [key, value] of Object.entries({ ...run.about, ended_s: endOf(run) }))
    about.run(key, JSON.stringify(value));
  const blocks = database.prepare('INSERT INTO blocks VALUES (?, ?, ?, ?, ?)');
  let kept = 0;
  for (let row = run.blockRow(0); row !== undefined; row = run.blockRow(Number(row.at_us) + 1)) {
    blocks.run(row.at_us, row.until_us, row.raw, row.crc, row.data);
    kept++;
  }
  const us = (at: number): number => Math.round((at - run.about.began_s) * 1e6);
  const events = database.prepare('INSERT INTO events (at_us, kind, text) VALUES (?, ?, ?)');
  for (const { at, kind, text } of run.events) events.run(us(at), kind, text);
  const moments = database.prepare(`INSERT INTO moments VALUES (?${', ?'.repeat(MOMENT_COLUMNS.length)})`);
  for (const { at, values } of run.moments) moments.run(us(at), ...values);
  database.exec('COMMIT');
  database.exec('PRAGMA journal_mode = DELETE');
  database.close();
  run.close();
  return kept;
}
