/**
 * What each folder of src may import and use: the table of the project's style, as data.
 * A name with `:types` may be imported for its types only; `device/layouts` is the folder inside device.
 */
interface Layer {
  readonly imports: readonly string[];
  readonly uses: readonly string[];
}

const ALL = '*';
export const LAYERS: Readonly<Record<string, Layer>> = {
  core: { imports: [], uses: [] },
  geometry: { imports: ['core'], uses: [] },
  estimate: { imports: ['core'], uses: [] },
  sweep: { imports: ['core'], uses: [] },
  perception: { imports: ['core', 'geometry', 'estimate', 'sweep'], uses: [] },
  // what a person at the bench measures: pure, over revolutions that somebody else gathered
  bringup: { imports: ['core', 'geometry', 'estimate', 'sweep', 'device:types', 'device/layouts'], uses: [] },
  device: { imports: ['core', 'sweep'], uses: ['serialport', 'rxjs', 'node:fs'] }, // node:fs: who holds a port, read from /proc
  simulator: { imports: ['core', 'geometry', 'device:types', 'device/layouts'], uses: [] },
  messages: { imports: ['core', 'sweep:types', 'perception:types'], uses: ['protobufjs'] },
  health: { imports: ['core', 'sweep', 'perception:types'], uses: [] },
  pipeline: { imports: ['core', 'sweep', 'perception', 'health', 'messages'], uses: ['rxjs'] },
  runs: {
    imports: ['core', 'geometry', 'estimate', 'sweep', 'device:types', 'messages', 'perception:types'],
    uses: ['node:sqlite', 'node:fs', 'node:path', 'node:worker_threads', 'node:zlib', 'hyparquet-writer'],
  },
  server: {
    imports: ['core'],
    uses: ['fastify', 'fastify-plugin', '@fastify/static', '@fastify/websocket', 'ws:types', 'rxjs'].concat([
      'node:crypto',
      'node:fs',
      'node:http:types',
      'node:net',
      'node:path',
    ]), // tokens, the page's folder, requests, addresses
  },
  config: { imports: ['core'], uses: ['node:fs', 'node:path', 'yaml'] },
  cli: { imports: [ALL], uses: [ALL] },
  'main.ts': { imports: [ALL], uses: [ALL] },
};

const LINES_MAX = 400; // the style says about 300
const IS_TABLE = /^src\/core\/fault\.ts$/; // one row a code: long, and one subject
const CLOCKS = /\b(?:new Date|Date|performance|Math\.random|setTimeout|setInterval|setImmediate|node:timers|hrtime)\b/;
const MAY_TELL_TIME = /^src\/(?:core\/clock\.ts$|pipeline\/|cli\/|main\.ts$)/;
const MAY_READ_PROCESS = /^src\/(?:cli\/|main\.ts$)/;
const NO_SUBJECT = /(?:^|\/)(?:utils?|helpers?|common|types)\.ts$/i;

/** An import of a source file. */
interface Import {
  readonly from: string;
  readonly isTypeOnly: boolean;
}

/** @returns every import, re-export and dynamic import of a TypeScript source. */
export function importsOf(source: string): Import[] {
  const code = withoutComments(source);
  const found: Import[] = [];
  for (const [, keyword, what, from] of code.matchAll(/\b(import|export)\b([^'";=()]*?)\bfrom\s*['"]([^'"]+)['"]/g)) {
    const names =
      /\{([^}]*)\}/
        .exec(what)?.[1]
        .split(',')
        .filter((name) => name.trim() !== '') ?? [];
    const before = what.replace(/\{[^}]*\}/, '').trim();
    const isEachType = before === '' && names.length > 0 && names.every((name) => /^\s*type\s/.test(name));
    found.push({ from, isTypeOnly: /^type\b/.test(before) || (keyword === 'import' && isEachType) });
  }
  for (const [, from] of code.matchAll(/\bimport\s*\(?\s*['"]([^'"]+)['"]/g)) found.push({ from, isTypeOnly: false });
  return found;
}

/**
 * @param path of a file below src/, such as src/core/clock.ts.
 * @returns every rule of the style that the file breaks and a machine can see; empty: none.
 */
export function violations(path: string, source: string): string[] {
  const found: string[] = [];
  const layerName = path.split('/')[1];
  const layer = LAYERS[layerName];
  if (layer === undefined) return [`${path}: ${layerName} is no folder of the style's table`];
  for (const { from, isTypeOnly } of importsOf(source)) {
    const isOwn = from.startsWith('.');
    const target = isOwn ? resolvePath(path, from) : from;
    if (isOwn && !target.startsWith('src/')) found.push(`${path}: imports ${target}, outside src`);
    else if (isOwn && target.split('/')[1] === layerName) continue;
    else if (!isAllowed(isOwn ? layer.imports : layer.uses, isOwn ? target.slice('src/'.length) : target, isTypeOnly)) {
      found.push(`${path}: ${layerName} may not ${isOwn ? 'import' : 'use'} ${target}${isTypeOnly ? ' (types)' : ''}`);
    }
  }
  const code = withoutComments(source).replace(/'(?:[^'\\\n]|\\.)*'|"(?:[^"\\\n]|\\.)*"/g, "''");
  const clock = CLOCKS.exec(code);
  if (clock !== null && !MAY_TELL_TIME.test(path))
    found.push(`${path}: ${clock[0]}: time comes from the injected Clock`);
  if (/\bprocess\./.test(code) && !MAY_READ_PROCESS.test(path))
    found.push(`${path}: process is read in cli/ and main.ts only`);
  if (/^export default\b/m.test(code) && !/Plugin\.ts$/.test(path))
    found.push(`${path}: only a plugin is a default export`);
  if (NO_SUBJECT.test(path)) found.push(`${path}: the name has no subject`);
  const lines = source.split('\n').length - 1;
  if (lines > LINES_MAX && !IS_TABLE.test(path)) found.push(`${path}: ${lines} lines; more than one subject?`);
  for (const name of undocumented(source)) found.push(`${path}: ${name} is exported without a docstring`);
  return found;
}

/** @param allowed names as in {@link LAYERS}. @param target `core/fault.js` or `rxjs` or `protobufjs/minimal.js`. */
function isAllowed(allowed: readonly string[], target: string, isTypeOnly: boolean): boolean {
  return allowed.some((entry) => {
    const name = entry.replace(/:types$/, '');
    const isSame = name === ALL || target === name || target.startsWith(`${name}/`);
    return isSame && (isTypeOnly || name === entry);
  });
}

function resolvePath(path: string, from: string): string {
  const parts = path.split('/').slice(0, -1);
  for (const part of from.split('/')) {
    if (part === '..') parts.pop();
    else if (part !== '.') parts.push(part);
  }
  return parts.join('/');
}

/** @returns exported functions and classes that no `/** ... *\/` stands right before. */
function undocumented(source: string): string[] {
  const names: string[] = [];
  const lines = source.split('\n');
  lines.forEach((line, i) => {
    const match = /^export (?:default )?(?:async )?(?:abstract )?(?:function|class) \*?(\w+)/.exec(line);
    if (match !== null && !/\*\/\s*$/.test(lines[i - 1] ?? '')) names.push(match[1]);
  });
  return names;
}

/** Strings are kept: a `//` inside one (an address) begins no comment. */
function withoutComments(source: string): string {
  return source.replace(
    /('(?:[^'\\\n]|\\.)*'|"(?:[^"\\\n]|\\.)*"|`(?:[^`\\]|\\.)*`)|\/\*[\s\S]*?\*\/|\/\/[^\n]*/g,
    (_, string) => string ?? ' ',
  );
}

const UNIT = /_(?:m|s|rad|mps|radps|hz|mm|mps2|per_s)$/;
/** Floating-point fields that have no unit of their own name: squares and products of units, shares, matrices. */
const UNITLESS = new Set([
  'distance_var',
  'cross_cov',
  'normal_var',
  'valid_share',
  'covariance',
  'confidence',
  'quality',
  'pace', // times as fast
]);

/** @returns floating-point fields of a .proto file whose names do not say their unit. */
export function unitless(proto: string): string[] {
  const code = withoutComments(proto);
  const fields = [...code.matchAll(/\b(?:float|double)\s+(\w+)\s*=/g)].map(([, name]) => name);
  return fields.filter((name) => !UNIT.test(name) && !UNITLESS.has(name));
}

const TOP = [
  'README.md',
  'DEVELOPERS.md',
  'LICENSE',
  'package.json',
  'package-lock.json',
  'tsconfig.json',
  'src',
  'proto',
  'tests',
  'deploy',
  'clients',
];

/** @param names in the project's folder. @param ignored names that git ignores. @returns those that do not belong there. */
export function strangers(names: readonly string[], ignored: readonly string[]): string[] {
  return names.filter((name) => !name.startsWith('.') && !TOP.includes(name) && !ignored.includes(name));
}
