import { readFileSync } from 'node:fs';
import { type Document, isAlias, isMap, isScalar, isSeq, LineCounter, type ParsedNode, parseDocument } from 'yaml';
import { type Facts, Fault } from '../core/fault.js';
import type { Layer, Path } from './read.js';

/** @throws {Fault} CONFIG_UNREADABLE, CONFIG_YAML_BAD. */
export function fileLayer(file: string): Layer {
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(readFileSync(file));
  } catch (cause) {
    throw new Fault(
      'CONFIG_UNREADABLE',
      { file, reason: cause instanceof Error ? cause.message : String(cause) },
      cause,
    );
  }
  const lines = new LineCounter();
  const { document, raw } = parse(text, lines, { file });
  return {
    raw,
    says: (path) => find(document, path).found,
    place: (path) => ({ file, line: lines.linePos(find(document, path).offset).line }),
  };
}

/** @throws {Fault} USAGE_WRONG without `=` or key, CONFIG_YAML_BAD for the value. */
export function setLayer(argument: string): Layer {
  const cut = argument.indexOf('=');
  if (cut < 1)
    throw new Fault('USAGE_WRONG', {
      argument: `--set ${argument}`,
      expected: '--set KEY=VALUE, such as --set server.port=8080',
    });
  const keys = argument.slice(0, cut).trim().split('.');
  const value = parse(argument.slice(cut + 1), new LineCounter(), { argument: `--set ${argument}` }).raw;
  return {
    raw: keys.reduceRight<unknown>((below, key) => ({ [key]: below }), value),
    says: (path) => keys.every((key, i) => i >= path.length || key === path[i]),
    place: () => ({ argument: `--set ${argument}` }),
  };
}

function parse(text: string, lines: LineCounter, where: Facts): { document: Document.Parsed; raw: unknown } {
  const document = parseDocument(text, { lineCounter: lines, prettyErrors: false });
  const error = document.errors[0];
  if (error) {
    const { line, col } = lines.linePos(error.pos[0]);
    throw new Fault('CONFIG_YAML_BAD', { ...where, line, column: col, reason: error.message }, error);
  }
  try {
    return { document, raw: document.toJS() };
  } catch (cause) {
    // an alias without its anchor, or so many that they would fill the memory, shows only here
    if (!(cause instanceof ReferenceError)) throw cause;
    throw new Fault('CONFIG_YAML_BAD', { ...where, reason: cause.message }, cause);
  }
}

/** Follows the path as far as the document has it; `offset` is that of the last key or item found. */
function find(document: Document.Parsed, path: Path): { found: boolean; offset: number } {
  let node: ParsedNode | null = document.contents;
  let offset = node?.range[0] ?? 0;
  for (const part of path) {
    if (isAlias(node)) node = node.resolve(document) as ParsedNode | null;
    let next: ParsedNode | null | undefined;
    if (isMap<ParsedNode, ParsedNode | null>(node)) {
      const pair = node.items.find(({ key }) => isScalar(key) && String(key.value) === String(part));
      offset = pair?.key.range[0] ?? offset;
      next = pair?.value;
    } else if (isSeq<ParsedNode>(node)) {
      next = node.items[Number(part)];
      offset = next?.range[0] ?? offset;
    }
    if (next === undefined) return { found: false, offset };
    node = next;
  }
  return { found: true, offset };
}
