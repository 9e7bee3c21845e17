import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { gunzipSync } from 'node:zlib';

/** Folder beside the project with recordings, simulated drives and reference values; most checkouts do not have it. */
const SHARED = fileURLToPath(new URL('../../../shared/', import.meta.url));

/** @returns the path of a file or folder there, or undefined, saying plainly that the tests that need it do not run. */
export function sharedPath(name: string): string | undefined {
  const path = SHARED + name;
  if (existsSync(path)) return path;
  console.warn(`SKIPPED: ${path} is absent; the checks that need it do not run here.`);
  return undefined;
}

/** @returns the lines of a gzipped NDJSON file. */
export function readRows<T>(path: string): T[] {
  const bytes = readFileSync(path);
  const text = (bytes[0] === 0x1f ? gunzipSync(bytes) : bytes).toString('utf8');
  return text
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line) as T);
}
