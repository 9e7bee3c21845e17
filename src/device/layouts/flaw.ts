import { type Bits, eachOf, hexBytes, type Layout, type PacketLayout } from './layout.js';
import { leadsSomewhere } from './options.js';

/** What a declaration says that cannot be. */
export interface Flaw {
  /** Keys of the place in the layout. */
  readonly path: readonly (string | number)[];
  /** What it must be, for people. */
  readonly limits: string;
}

/** @returns the first thing in which the layout contradicts itself; undefined: it is sound. */
export function flawOf(layout: Layout): Flaw | undefined {
  return commandFlaw(layout) ?? packetFlaw(layout.packet) ?? triangulationFlaw(layout) ?? optionFlaw(layout);
}

function commandFlaw(layout: Layout): Flaw | undefined {
  for (const key of ['start', 'stop', 'answer'] as const) {
    try {
      hexBytes(layout[key] ?? '');
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      return { path: [key], limits: 'pairs of hexadecimal digits such as A5 20' };
    }
  }
  return undefined;
}

function packetFlaw(packet: PacketLayout): Flaw | undefined {
  const at = (limits: string, ...path: (string | number)[]): Flaw => ({ path: ['packet', ...path], limits });
  const { samples, angle, bytes, check } = packet;
  const { count } = samples;
  const cell = eachOf(packet.range).length;
  if (cell === 0) return at('at least one field', 'range');
  const most = typeof count === 'number' ? count : count.most;
  if (!(Number.isInteger(most) && most >= 1)) return at('at least one sample', 'samples', 'count');
  if (typeof count === 'number') {
    if (count % cell !== 0) return at(`whole cells of ${cell} samples`, 'samples', 'count');
    if (samples.first + (count / cell) * samples.stride > bytes) return at(`cells within ${bytes} bytes`, 'samples');
  } else {
    if (cell !== 1) return at('one sample a cell where samples are counted', 'range');
    if (samples.first !== bytes) return at('where the head of a counted packet ends: at bytes', 'samples', 'first');
    if (!(count.least >= 1 && count.usual >= count.least && count.most >= count.usual))
      return at('least at least 1, usual from there on, most from there on', 'samples', 'count');
  }
  if (angle.kind === 'each' && most !== 1)
    return at('ends, next or index where a packet holds more than one sample', 'angle', 'kind');
  if (angle.kind === 'ends' && angle.first.per !== angle.last.per) return at('the same unit as first', 'angle', 'last');
  if (angle.kind !== 'each' && angle.kind !== 'ends' && typeof count !== 'number')
    return at('ends where samples are counted', 'angle', 'kind');
  if (angle.kind !== 'each' && !check) return at('needed where a packet holds more than one sample', 'check');
  if (check?.kind === 'xor16' || check?.kind === 'folded15') {
    if (typeof count !== 'number' && samples.stride % 2 !== 0)
      return at('cells of an even number of bytes for a check of words', 'samples', 'stride');
    if (((check.last ?? bytes) - check.first) % 2 !== 0) return at('an even number of bytes', 'check', 'last');
  }
  return fieldFlaw(packet, typeof count === 'number' ? bytes : Infinity, samples.stride, at);
}

/** Every field must lie in its packet or cell, and be as wide as can be read. */
function fieldFlaw(
  packet: PacketLayout,
  packetBytes: number,
  cellBytes: number,
  at: (limits: string, ...path: (string | number)[]) => Flaw,
): Flaw | undefined {
  const { angle, check, samples } = packet;
  const inPacket: [Bits | undefined, ...(string | number)[]][] = [
    ...packet.fixed.map((bits, i): [Bits, string, number] => [bits, 'fixed', i]),
    [check?.field, 'check', 'field'],
    [typeof samples.count === 'number' ? undefined : samples.count, 'samples', 'count'],
    [packet.startMark, 'startMark'],
    [packet.freshMark, 'freshMark'],
    [packet.speed, 'speed'],
    [packet.time, 'time'],
  ];
  if (angle.kind === 'ends') inPacket.push([angle.first, 'angle', 'first'], [angle.last, 'angle', 'last']);
  if (angle.kind === 'next') inPacket.push([angle.first, 'angle', 'first']);
  if (angle.kind === 'index') inPacket.push([angle.field, 'angle', 'field']);
  for (const [bits, ...path] of inPacket)
    if (bits && !lies(bits, packetBytes)) return at('1 to 16 bits within the packet', ...path);
  for (const [i, bits] of packet.fixed.entries()) if (bits.width > 8) return at('at most 8 bits wide', 'fixed', i);
  const cell = eachOf(packet.range).length;
  const inCell = {
    range: packet.range,
    strength: packet.strength,
    noEcho: packet.noEcho,
    weak: packet.weak?.bits,
    correction: packet.correction,
  };
  for (const [name, fields] of Object.entries(inCell)) {
    const each = eachOf<Bits>(fields);
    if (each.length !== 0 && each.length !== cell) return at(`as many fields as range has: ${cell}`, name);
    for (const bits of each) if (!lies(bits, cellBytes)) return at('1 to 16 bits within the cell', name);
  }
  if (angle.kind === 'each' && !lies(angle.field, cellBytes))
    return at('1 to 16 bits within the cell', 'angle', 'field');
  return undefined;
}

function triangulationFlaw({ triangulation }: Layout): Flaw | undefined {
  if (!triangulation || triangulation.at > 0) return undefined;
  return { path: ['triangulation', 'at'], limits: 'a range above 0' };
}

function optionFlaw(layout: Layout): Flaw | undefined {
  for (const [name, { sets }] of Object.entries(layout.options ?? {})) {
    if (!sets.every((path) => leadsSomewhere(layout, path)))
      return { path: ['options', name, 'sets'], limits: 'keys of this layout that have a value' };
  }
  return undefined;
}

function lies({ offset, width, more }: Bits, bytes: number): boolean {
  const isIn = (from: number, bits: number): boolean => from >= 0 && bits >= 1 && from + bits <= 8 * bytes;
  return isIn(offset, width) && width + (more?.width ?? 0) <= 16 && (!more || isIn(more.offset, more.width));
}
