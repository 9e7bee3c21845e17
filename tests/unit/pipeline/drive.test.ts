import { NEVER } from 'rxjs';
import { describe, expect, test } from 'vitest';
import { Fault } from '../../../src/core/fault.js';
import { leeway } from '../../../src/messages/gen/leeway.js';
import { Feeds } from '../../../src/pipeline/feeds.js';
import { Senses } from '../../../src/pipeline/senses.js';
import { clearanceSetting, perceptionSetting } from '../../support/clearanceRig.js';
import { fakeClock } from '../../support/fakeClock.js';

const hello = {
  version: '0',
  rover: 'test',
  source: 'serial',
  outline: [],
  reach: [0.15, 12] as const,
  stop: 0.2,
  run: '',
};
const drive = (vxMps: number, turnRadps: number): Uint8Array =>
  leeway.v1.ClientMessage.encode({ drive: { vxMps, turnRadps } }).finish();

function rig(isSimulated: boolean) {
  const clock = fakeClock();
  const tally = { receivedBytes: 0, skippedBytes: 0, badChecks: 0 };
  const senses = new Senses({ clearance: clearanceSetting(), perception: perceptionSetting(), hello, tally, clock });
  const driven: number[][] = [];
  const feeds = new Feeds(senses, NEVER, isSimulated ? (speed, turn) => driven.push([speed, turn]) : undefined);
  const act = (bytes: Uint8Array, role: string): void => feeds.act(feeds.read('proto', bytes), role);
  const codes = (): string[] => senses.health.findings.map(({ code }) => code);
  return { clock, driven, act, codes };
}

describe('drive', () => {
  test.each(['drive', 'admin'])('from a client of role %s reaches the simulated rover', (role) => {
    const { driven, act, codes } = rig(true);
    act(drive(0.5, -0.25), role);
    act(drive(0, 0), role);
    expect(driven).toEqual([
      [0.5, -0.25],
      [0, 0],
    ]);
    expect(codes()).not.toContain('DRIVE_IGNORED');
  });
  test('from a client that may only watch is refused', () => {
    const { driven, act } = rig(true);
    expect(() => act(drive(0.5, 0), 'watch')).toThrow(expect.objectContaining({ code: 'ROLE_TOO_LOW' }));
    expect(driven).toEqual([]);
  });
  test('with a speed that is no number is refused', () => {
    const { driven, act } = rig(true);
    for (const bytes of [drive(NaN, 0), drive(0, Infinity)]) expect(() => act(bytes, 'drive')).toThrow(Fault);
    expect(driven).toEqual([]);
  });
  test('is ignored where the rover is a real one: a finding, which goes when nobody tries any more', () => {
    const { clock, act, codes } = rig(false);
    expect(codes()).not.toContain('DRIVE_IGNORED');
    act(drive(0.5, 0), 'drive');
    expect(codes()).toContain('DRIVE_IGNORED');
    clock.advance(1);
    expect(codes()).toContain('DRIVE_IGNORED');
    clock.advance(5);
    expect(codes()).not.toContain('DRIVE_IGNORED');
  });
});
