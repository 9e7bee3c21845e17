import fc from 'fast-check';
import descriptor from '../../src/messages/gen/leeway.json' with { type: 'json' };

interface Entry {
  readonly fields?: Readonly<Record<string, { readonly type: string; readonly rule?: string }>>;
  readonly values?: Readonly<Record<string, number>>;
  readonly oneofs?: Readonly<Record<string, { readonly oneof: readonly string[] }>>;
}
const entries: Readonly<Record<string, Entry>> = descriptor.nested.leeway.nested.v1.nested;

const FLOAT_MAX = 3.4028234663852886e38; // python3-protobuf refuses the text that it writes of it itself, 3.4028235e+38

/** Any message of that name of package leeway.v1, as plain values: every field, NaN, infinities and extremes among them. */
export function anyMessage(typeName: string): fc.Arbitrary<Record<string, unknown>> {
  const { fields = {}, oneofs = {} } = entries[typeName];
  const parts: fc.Arbitrary<Record<string, unknown>>[] = [];
  const inOneof = new Set(Object.values(oneofs).flatMap(({ oneof }) => oneof));
  const one = (name: string): fc.Arbitrary<Record<string, unknown>> =>
    anyValue(fields[name].type).map((value) => ({ [name]: value }));
  for (const [name, { type, rule }] of Object.entries(fields)) {
    if (rule === 'repeated') parts.push(fc.array(anyValue(type), { maxLength: 6 }).map((value) => ({ [name]: value })));
    else if (!inOneof.has(name)) parts.push(one(name));
  }
  for (const { oneof } of Object.values(oneofs)) parts.push(fc.oneof(fc.constant({}), ...oneof.map(one))); // none, or one of them
  return fc.tuple(...parts).map((found) => Object.assign({}, ...found));
}

function anyValue(type: string): fc.Arbitrary<unknown> {
  const { values } = entries[type] ?? {};
  if (values !== undefined) return fc.constantFrom(...Object.values(values));
  if (entries[type] !== undefined) return anyMessage(type);
  // -0 is left out: JSON text made by JSON.stringify writes it as 0, which means the same to every reader of these messages
  const isPlain = (value: number): boolean => !Object.is(value, -0) && Math.abs(value) !== FLOAT_MAX;
  switch (type) {
    case 'float':
      return fc.oneof(
        { weight: 3, arbitrary: fc.float().filter(isPlain) },
        fc.constantFrom(NaN, Infinity, -Infinity, 0, Math.fround(0.1)),
      );
    case 'double':
      return fc.oneof(
        { weight: 3, arbitrary: fc.double().filter(isPlain) },
        fc.constantFrom(NaN, Infinity, 0, 1.7e9 + 1 / 3),
      );
    case 'uint32':
      return fc.oneof(fc.nat({ max: 2 ** 31 - 1 }), fc.constantFrom(0, 1, 127, 128, 2 ** 32 - 1));
    case 'sint32':
      return fc.oneof(
        fc.integer({ min: -(2 ** 31), max: 2 ** 31 - 1 }),
        fc.constantFrom(0, -1, -(2 ** 31), 2 ** 31 - 1),
      );
    case 'uint64':
      return fc.oneof(fc.maxSafeNat(), fc.constantFrom(0, 2 ** 32 - 1, 2 ** 32, Number.MAX_SAFE_INTEGER));
    case 'bool':
      return fc.boolean();
    case 'string':
      return fc.string({ unit: 'grapheme' });
    default:
      throw new RangeError(`anyMessage: no values for ${type}`);
  }
}
