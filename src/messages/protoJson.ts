import { Fault } from '../core/fault.js';
import descriptor from './gen/leeway.json' with { type: 'json' };

interface FieldEntry {
  readonly type: string;
  readonly rule?: string;
  readonly protoName?: string;
  readonly options?: Readonly<Record<string, unknown>>;
}
interface TypeEntry {
  readonly fields?: Readonly<Record<string, FieldEntry>>;
  readonly values?: Readonly<Record<string, number>>;
  readonly oneofs?: Readonly<Record<string, { readonly oneof: readonly string[] }>>;
}
type Values = Readonly<Record<string, unknown>>;

interface Field {
  readonly name: string;
  readonly type: string;
  readonly isRepeated: boolean;
  /** Absent is not the same as 0: optional, part of a oneof, or a message. */
  readonly hasPresence: boolean;
}
interface MessageType {
  readonly fields: readonly Field[];
  /** Fields by lowerCamelCase name and by the name in the .proto file. */
  readonly byName: ReadonlyMap<string, Field>;
  readonly oneofs: readonly (readonly string[])[];
}

const entries = descriptor.nested.leeway.nested.v1.nested as Readonly<Record<string, TypeEntry>>;
const types = new Map<string, MessageType>();
const enums = new Map<
  string,
  { readonly byName: ReadonlyMap<string, number>; readonly byNumber: ReadonlyMap<number, string> }
>();
for (const [name, entry] of Object.entries(entries)) {
  if (entry.values !== undefined) {
    const pairs = Object.entries(entry.values);
    enums.set(name, { byName: new Map(pairs), byNumber: new Map(pairs.map(([text, number]) => [number, text])) });
    continue;
  }
  const oneofs = Object.values(entry.oneofs ?? {}).map(({ oneof }) => oneof);
  const byName = new Map<string, Field>();
  const fields = Object.entries(entry.fields ?? {}).map(([field, found]) => {
    const isMessage = entries[found.type]?.values === undefined && entries[found.type] !== undefined;
    const isRepeated = found.rule === 'repeated';
    const made = {
      name: field,
      type: found.type,
      isRepeated,
      hasPresence: !isRepeated && (isMessage || oneofs.some((names) => names.includes(field))),
    };
    byName.set(field, made);
    if (found.protoName !== undefined) byName.set(found.protoName, made);
    return made;
  });
  types.set(name, { fields, byName, oneofs });
}

/**
 * Writes a message as ProtoJSON: lowerCamelCase names, numbers without presence also when 0, "NaN" and "Infinity", enums by name, 64-bit
 * integers as decimal strings.
 * @param typeName of package leeway.v1. @param message its values as protobufjs holds them.
 * @source ProtoJSON format, protobuf.dev/programming-guides/json.
 */
export function toProtoJson(typeName: string, message: object): string {
  return JSON.stringify(writeMessage(typeName, message as Values));
}

function writeMessage(typeName: string, message: Values): Record<string, unknown> {
  const out: Record<string, unknown> = {};
  for (const field of typeOf(typeName).fields) {
    const value = message[field.name];
    if (field.isRepeated)
      out[field.name] = Array.from((value ?? []) as ArrayLike<unknown>, (each) => writeValue(field.type, each));
    else if (value !== undefined && value !== null) out[field.name] = writeValue(field.type, value);
    else if (!field.hasPresence) out[field.name] = writeValue(field.type, defaultOf(field.type));
  }
  return out;
}

function writeValue(type: string, value: unknown): unknown {
  if (type === 'float') return writeNumber(shortest(value as number));
  if (type === 'double') return writeNumber(value as number);
  if (type === 'uint64') return String(value);
  const named = enums.get(type);
  if (named !== undefined) return named.byNumber.get(value as number) ?? value;
  return types.has(type) ? writeMessage(type, value as Values) : value;
}

function writeNumber(value: number): number | string {
  return Number.isFinite(value) ? value : String(value); // String gives NaN, Infinity and -Infinity as ProtoJSON spells them
}

/** @returns the number of fewest digits that is the same 32-bit float. */
function shortest(value: number): number {
  const single = Math.fround(value);
  for (let digits = 6; digits < 9; digits++) {
    const rounded = Number(single.toPrecision(digits));
    if (Math.fround(rounded) === single) return rounded;
  }
  return Number.isFinite(single) ? Number(single.toPrecision(9)) : single;
}

/**
 * Reads a message from ProtoJSON. Names may also be those of the .proto file, enums also numbers, numbers also strings.
 * @throws {Fault} MESSAGE_UNREADABLE with where and why; ENUM_UNKNOWN.
 */
export function fromProtoJson(typeName: string, text: string): Values {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (cause) {
    throw new Fault('MESSAGE_UNREADABLE', { reason: 'not JSON' }, cause);
  }
  return readMessage(typeName, value, typeName);
}

function readMessage(typeName: string, value: unknown, where: string): Values {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) throw unreadable(where, 'not an object');
  const type = typeOf(typeName);
  const out: Record<string, unknown> = {};
  for (const [name, given] of Object.entries(value)) {
    const field = type.byName.get(name);
    if (field === undefined) throw unreadable(where, `no field ${name.slice(0, 40)}`);
    if (field.name in out) throw unreadable(where, `${field.name} given twice`);
    if (given === null) continue;
    const at = `${where}.${field.name}`;
    if (!field.isRepeated) out[field.name] = readValue(field.type, given, at);
    else if (Array.isArray(given))
      out[field.name] = given.map((each: unknown, i) => readValue(field.type, each, `${at}[${i}]`));
    else throw unreadable(at, 'not a list');
  }
  for (const names of type.oneofs)
    if (names.filter((name) => name in out).length > 1) throw unreadable(where, `more than one of ${names.join(', ')}`);
  for (const field of type.fields)
    if (!(field.name in out) && !field.hasPresence) out[field.name] = field.isRepeated ? [] : defaultOf(field.type);
  return out;
}

function readValue(type: string, value: unknown, where: string): unknown {
  const named = enums.get(type);
  if (named !== undefined) {
    const number = typeof value === 'string' ? named.byName.get(value) : value;
    if (typeof number !== 'number' || !named.byNumber.has(number))
      throw new Fault('ENUM_UNKNOWN', { where, value: String(value).slice(0, 40) });
    return number;
  }
  if (types.has(type)) return readMessage(type, value, where);
  if (type === 'string') {
    if (typeof value !== 'string') throw unreadable(where, 'not a string');
    return value;
  }
  if (type === 'bool') {
    if (typeof value !== 'boolean') throw unreadable(where, 'neither true nor false');
    return value;
  }
  return readNumber(type, value, where);
}

const DECIMAL = /^-?\d+(\.\d+)?([eE][+-]?\d+)?$/;
const NOT_FINITE = ['NaN', 'Infinity', '-Infinity'];

/** @returns the number as the type holds it: a `float` comes out rounded to one, as it does from the binary form. */
function readNumber(type: string, value: unknown, where: string): number {
  const isFloating = type === 'float' || type === 'double';
  if (isFloating && NOT_FINITE.includes(value as string)) return Number(value);
  if (typeof value !== 'number' && !(typeof value === 'string' && DECIMAL.test(value)))
    throw unreadable(where, 'not a number');
  const number = type === 'float' ? Math.fround(Number(value)) : Number(value);
  if (isFloating) {
    if (!Number.isFinite(number)) throw unreadable(where, `too large for a ${type}`);
    return number;
  }
  const [least, most] = WHOLE_LIMITS[type as keyof typeof WHOLE_LIMITS];
  if (!Number.isInteger(number) || number < least || number > most) {
    throw unreadable(where, `not a whole number from ${least} to ${most}`);
  }
  return number;
}

const WHOLE_LIMITS = {
  sint32: [-(2 ** 31), 2 ** 31 - 1],
  uint32: [0, 2 ** 32 - 1],
  uint64: [0, Number.MAX_SAFE_INTEGER], // plain numbers here: no more than 2^53 - 1 is exact
} as const;

function defaultOf(type: string): unknown {
  return type === 'string' ? '' : type === 'bool' ? false : 0;
}

function typeOf(name: string): MessageType {
  const type = types.get(name);
  if (type === undefined) throw new RangeError(`no message ${name}`);
  return type;
}

function unreadable(where: string, reason: string): Fault {
  return new Fault('MESSAGE_UNREADABLE', { where, reason });
}

/** @returns whether `value` is a number that the enum of that name knows. */
export function isEnumValue(enumName: string, value: number): boolean {
  return enums.get(enumName)?.byNumber.has(value) ?? false;
}
