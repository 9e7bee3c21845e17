import { existsSync, readFileSync, realpathSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { Document, isCollection, parseDocument } from 'yaml';
import { Fault } from '../core/fault.js';
import { loadConfig } from './load.js';

/** A key of the configuration file, by its names there, and what it shall say. */
export interface Setting {
  readonly path: readonly string[];
  readonly value: unknown;
}

/**
 * Writes values into a configuration file and leaves the rest as it stands, comments too. The file appears whole or not at all,
 * and only when it can be read back as a configuration. A file that is not there is made.
 * @throws {Fault} CONFIG_UNREADABLE, CONFIG_YAML_BAD, CONFIG_KEY_UNKNOWN, CONFIG_VALUE_BAD, OUTPUT_UNWRITABLE.
 */
export function writeSettings(file: string, settings: readonly Setting[]): void {
  const isThere = existsSync(file);
  if (isThere) loadConfig(file); // what is wrong already is told with its own line
  const target = isThere ? realpathSync(file) : file; // a link stays a link
  const document = isThere ? parseDocument(readFileSync(target, 'utf8')) : new Document({});
  for (const { path, value } of settings) put(document, path, value);
  const part = `${target}.part.yaml`;
  try {
    writeFileSync(part, document.toString({ lineWidth: 0, flowCollectionPadding: false }));
    loadConfig(part);
    renameSync(part, target);
  } catch (cause) {
    rmSync(part, { force: true });
    if (cause instanceof Fault || !(cause instanceof Error && 'code' in cause)) throw cause;
    throw new Fault('OUTPUT_UNWRITABLE', { output: file, reason: cause.message }, cause);
  }
}

/** A section whose lines are all commented out reads as null and cannot hold keys: it becomes a map. */
function put(document: Document, path: readonly string[], value: unknown): void {
  if (document.contents === null) document.contents = document.createNode({});
  for (let depth = 1; depth < path.length; depth++) {
    const above = path.slice(0, depth);
    if (document.hasIn(above) && !isCollection(document.getIn(above, true)))
      document.setIn(above, document.createNode({}));
  }
  const before = document.getIn(path, true);
  const node = document.createNode(value);
  if (isCollection(node) && !(isCollection(before) && before.items.length > 0))
    node.flow = Array.isArray(value) && value.length < 2;
  document.setIn(path, isCollection(node) || before === undefined ? node : value); // a plain value keeps its node, and the comment behind it
}
