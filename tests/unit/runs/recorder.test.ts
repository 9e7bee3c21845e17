// What goes into a run beside the bytes, in virtual time: line, wheels, marks, the wall clock's corrections, settings; when it begins.
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { Replayed, replaySettings } from '../../../src/cli/replay.js';
import { Fault } from '../../../src/core/fault.js';
import { Feed } from '../../../src/messages/codec.js';
import { ENTRY, type Entry } from '../../../src/runs/format.js';
import { RunFile } from '../../../src/runs/runFile.js';
import { startRecording } from '../../support/recordedRun.js';

function entriesOf(path: string): { run: RunFile; entries: Entry[] } {
  const run = new RunFile(path);
  const entries: Entry[] = [];
  for (let block = run.block(0); block; block = run.block(block.atUs + 1)) entries.push(...block.entries);
  return { run, entries };
}

const codes = (
  messages: ReadonlyArray<{
    message: { health?: { findings?: ReadonlyArray<{ code?: string | null }> | null } | null };
  }>,
): Set<string> =>
  new Set(messages.flatMap(({ message }) => (message.health?.findings ?? []).map(({ code }) => code ?? '')));

describe('a run holds', () => {
  test('line, wheels, marks, corrections of the wall clock, and the settings without what is of that machine alone', async () => {
    const recording = startRecording(['sensor.mount.x_m=0.05', 'server.port=0', 'rover.name=cart']);
    const { clock, daemon, desk } = recording;
    await clock.advanceAsync(1);
    daemon.feeds.act({ kind: 'other', body: { odometry: { timeS: 0, xM: 1, yM: 2, headingRad: 0.5 } } }, 'drive');
    daemon.feeds.act({ kind: 'other', body: { mark: { text: 'bench 3' } } }, 'drive');
    clock.stepWall(3600);
    await clock.advanceAsync(2);
    expect(desk.name).toMatch(/^20260101T000000Z-1$/);
    const { run, entries } = entriesOf(await recording.stop());
    const notes = entries
      .filter(({ kind }) => kind === ENTRY.line)
      .map(({ payload }) => JSON.parse(Buffer.from(payload).toString()));
    expect(notes.map(({ what }) => what)).toEqual(expect.arrayContaining(['opened', 'lines', 'sent']));
    const wheels = entries.filter(({ kind }) => kind === ENTRY.odometry);
    expect([...new Float64Array(Uint8Array.from(wheels[0].payload).buffer)]).toEqual([0, 1, 2, 0.5]);
    expect(run.events.filter(({ kind }) => kind === 'mark').map(({ text }) => text)).toEqual(['bench 3']);
    expect(run.events.filter(({ kind }) => kind === 'clock').map(({ text }) => text)).toEqual(['3600.000']);
    expect(run.about.settings).toMatchObject({ sensor: { mount: { x_m: 0.05 } }, rover: { name: 'cart' } });
    expect(JSON.stringify(run.about.settings)).not.toMatch(/"(port|tokens|source)"/);
    // played, the correction comes again, as the finding of that day
    const replayed = new Replayed(run, replaySettings(run, undefined, []), 'test');
    const messages: Parameters<typeof codes>[0][number][] = [];
    replayed.daemon.feeds.messages.subscribe((message) => messages.push(message));
    await replayed.player.advance(Infinity, () => false);
    expect(codes(messages)).toContain('CLOCK_STEPPED');
    run.close();
  });

  test('the same sweeps as were told on the day, from the start on', async () => {
    const recording = startRecording();
    await recording.clock.advanceAsync(4);
    const told = recording.messages.filter(({ feed }) => feed === Feed.FEED_SWEEP).map(({ message }) => message.sweep);
    const run = new RunFile(await recording.stop());
    const { player, daemon } = new Replayed(run, replaySettings(run, undefined, []), 'test');
    const played: typeof told = [];
    daemon.feeds.messages.subscribe(({ message }) => message.sweep && played.push(message.sweep));
    await player.advance(Infinity, () => false);
    expect(told.length).toBeGreaterThan(25);
    expect(played.length).toBeGreaterThanOrEqual(told.length);
    for (const [i, sweep] of told.entries()) {
      expect(played[i]?.rangeMm).toEqual(sweep?.rangeMm);
      expect(Math.abs((played[i]?.firstTimeS ?? 0) - (sweep?.firstTimeS ?? 0))).toBeLessThan(2e-6); // times are whole microseconds
    }
    run.close();
  });
});

describe('recording', () => {
  test('while moving: begins with the motion, ends half a minute after it', async () => {
    const recording = startRecording(['runs.record=moving', 'simulator.world=shed']);
    const { clock, desk } = recording;
    const drive = async (seconds: number, speed: number): Promise<void> => {
      for (let t = 0; t < seconds; t += 0.1) {
        recording.drive(speed, 0);
        await clock.advanceAsync(0.1);
      }
    };
    await drive(3, 0);
    const standing = desk.name;
    await drive(1.5, 0.3);
    const moving = desk.name;
    await drive(34, 0);
    const after = desk.name;
    expect([standing, moving !== '', after]).toEqual(['', true, '']);
    await recording.stop();
    expect(readdirSync(recording.folder)).toEqual([`${moving}.run`]);
  }, 60_000);

  test('goes on in a new file when one is long enough; none of the bytes is lost', async () => {
    const recording = startRecording(['runs.file_max_s=2']);
    await recording.clock.advanceAsync(5);
    await recording.stop();
    await new Promise((resolve) => setTimeout(resolve, 300)); // the first files are ended beside
    const files = readdirSync(recording.folder).sort();
    expect(files.length).toBe(3);
    const parts = files.map((name) => entriesOf(join(recording.folder, name)));
    expect(parts.map(({ run }) => run.about.continues)).toEqual([
      undefined,
      parts[0].run.about.name,
      parts[1].run.about.name,
    ]);
    const bytes = parts
      .flatMap(({ entries }) => entries)
      .filter(({ kind }) => kind === ENTRY.bytes)
      .reduce((sum, { payload }) => sum + payload.length, 0);
    expect(bytes).toBeGreaterThan(4.9 * 10_000); // 2000 samples of 5 bytes a second, less the start
    for (const { run } of parts) run.close();
  });

  test('refuses marks while nothing is recorded, and what the role does not allow', async () => {
    const recording = startRecording(['runs.record=false']);
    const { daemon } = recording;
    const codeOf = (body: object, role: string): string => {
      try {
        daemon.feeds.act({ kind: 'other', body }, role);
        return 'none';
      } catch (error) {
        return error instanceof Fault ? error.code : String(error);
      }
    };
    expect(codeOf({ mark: { text: 'x' } }, 'drive')).toBe('RUN_NOT_RECORDING');
    expect(codeOf({ record: { on: true } }, 'watch')).toBe('ROLE_TOO_LOW');
    expect(codeOf({ keep: { run: 'a', remove: true } }, 'drive')).toBe('ROLE_TOO_LOW');
    expect(codeOf({ keep: { run: '../../etc/passwd', remove: true } }, 'admin')).toBe('RUN_NOT_FOUND');
    expect(codeOf({ record: { on: true } }, 'drive')).toBe('none');
    expect(codeOf({ keep: { run: '', remove: true } }, 'admin')).toBe('RUN_BUSY');
    await recording.stop();
  });
});
