import type { Facts } from '../core/fault.js';
import { fileLayer } from './layers.js';
import { type LayoutText, layoutSchema } from './layoutSchema.js';
import { type Path, readOver, valueBad } from './read.js';

/** A layout as plain data, in the names of device/layouts/layout.ts, and where its keys stand. */
export interface LayoutFile {
  readonly layout: ReturnType<typeof toLayout>;
  /** @param path keys as in the layout. @returns the key as the file writes it, file and line. */
  place(path: Path): Facts;
}

/**
 * Reads a layout file: YAML, every key checked.
 * @throws {Fault} CONFIG_UNREADABLE, CONFIG_YAML_BAD, CONFIG_KEY_UNKNOWN, CONFIG_VALUE_BAD, with key, file and line.
 */
export function readLayoutFile(path: string): LayoutFile {
  const layer = { ...fileLayer(path), root: layoutSchema };
  const said = readOver(layoutSchema, layer.raw, undefined, layer);
  const need = (key: Path, limits: string) => valueBad(key, undefined, limits, layer);
  const { samples, angle, fixed } = said.packet;
  if ((samples.count === undefined) === (samples.counted === undefined))
    throw need(['packet', 'samples', 'count'], 'either count or counted');
  const ends = angle.kind === 'ends';
  for (const [key, isNeeded] of [
    ['field', angle.kind === 'each' || angle.kind === 'index'],
    ['first', ends || angle.kind === 'next'],
    ['last', ends],
  ] as const)
    if (isNeeded && angle[key] === undefined)
      throw need(['packet', 'angle', key], `a field, needed with kind: ${angle.kind}`);
  for (const [i, { values, least, most }] of fixed.entries())
    if ((values.length === 0) === (least === undefined || most === undefined))
      throw need(['packet', 'fixed', i], 'either values, or least and most');
  return { layout: toLayout(said), place: (key) => layer.place(key.map(toText)) };
}

type Place = Readonly<{
  byte: number;
  bit: number;
  width: number;
  more?: Readonly<{ byte: number; bit: number; width: number }> | undefined;
}>;
type Signed = Place & Readonly<{ signed: boolean }>;

function toBits({ byte, bit, width, more }: Place) {
  return {
    offset: 8 * byte + bit,
    width,
    ...(more && { more: { offset: 8 * more.byte + more.bit, width: more.width } }),
  };
}
const perMetre = (field: Signed & Readonly<{ per_m: number }>) => ({
  ...toBits(field),
  per: field.per_m,
  signed: field.signed,
});
const perTurn = (field: Signed & Readonly<{ per_turn: number }>) => ({
  ...toBits(field),
  per: field.per_turn,
  signed: field.signed,
});
const units = (field: Place) => ({ ...toBits(field), per: 1 });

/** From the names of the file, which carry units and count bytes, to those inside. One line a key. */
function toLayout(text: LayoutText) {
  const { start, stop, answer, triangulation } = text;
  return {
    name: text.name,
    baud: text.baud,
    otherBauds: text.other_bauds,
    samplesPerSecond: text.samples_per_second,
    sense: text.sense,
    ...(text.lines && { lines: text.lines }),
    ...(start !== undefined && { start }),
    ...(stop !== undefined && { stop }),
    ...(answer !== undefined && { answer }),
    packet: toPacket(text.packet),
    ...(triangulation && {
      triangulation: {
        offset: triangulation.offset_m,
        at: triangulation.at_m,
        isDone: triangulation.is_done,
        empty: triangulation.empty,
      },
    }),
    options: Object.fromEntries(Object.entries(text.options).map(([name, option]) => [name, toOption(option)])),
  };
}

function toPacket(packet: LayoutText['packet']) {
  const { strength, no_echo, weak, correction, start_mark, fresh_mark, speed, time, check } = packet;
  return {
    bytes: packet.bytes,
    fixed: packet.fixed.map(({ values, least = 0, most = 0, ...place }) =>
      values.length > 0 ? { ...toBits(place), values } : { ...toBits(place), least, most },
    ),
    ...(check && { check: toCheck(check) }),
    samples: toSamples(packet.samples),
    angle: toAngle(packet.angle),
    range: packet.range.map(perMetre),
    ...(strength && { strength: strength.map(units) }),
    ...(no_echo && { noEcho: no_echo.map(toBits) }),
    ...(weak && { weak: { bits: weak.bits.map(toBits), isEcho: weak.is_echo } }),
    ...(correction && { correction: correction.map(perTurn) }),
    ...(start_mark && { startMark: { ...toBits(start_mark), isAlone: start_mark.is_alone } }),
    ...(fresh_mark && { freshMark: toBits(fresh_mark) }),
    ...(speed && { speed: { ...toBits(speed), per: speed.per_hz } }),
    ...(time && { time: { ...toBits(time), per: time.per_s, wraps: time.wraps } }),
  };
}

function toCheck({ kind, polynomial, initial, first, last, field }: NonNullable<LayoutText['packet']['check']>) {
  const span = { first, ...(last !== undefined && { last }), field: toBits(field) };
  return kind === 'crc8' ? { ...span, kind, polynomial, initial } : { ...span, kind };
}

function toSamples({ count, counted, first, stride }: LayoutText['packet']['samples']) {
  if (!counted) return { count: count ?? NaN, first, stride };
  const { least, most, usual, ...place } = counted;
  return { count: { ...toBits(place), least, most, usual }, first, stride };
}

function toAngle({ kind, field, first, last, zero }: LayoutText['packet']['angle']) {
  const there = (given: typeof field) => {
    if (!given) throw new TypeError('toAngle: checked before'); // readLayoutFile has
    return perTurn(given);
  };
  switch (kind) {
    case 'each':
      return { kind, field: there(field) };
    case 'index':
      return { kind, field: there(field), zero };
    case 'next':
      return { kind, first: there(first) };
    case 'ends':
      return { kind, first: there(first), last: there(last) };
  }
}

function toOption({ why, sets, preset, values, least, most, is_seen_on_wall }: LayoutText['options'][string]) {
  return {
    why,
    sets,
    preset,
    isSeenOnWall: is_seen_on_wall,
    ...(values.length > 0 && { values: values.filter((value) => typeof value !== 'number') }),
    ...(least !== undefined && { least }),
    ...(most !== undefined && { most }),
  };
}

/** @returns the key as the file writes it: noEcho is no_echo. */
function toText(key: string | number): string | number {
  return typeof key === 'number' ? key : key.replace(/[A-Z]/g, (capital) => `_${capital.toLowerCase()}`);
}
