import { createReadStream } from 'node:fs';
import { pipeline, Readable } from 'node:stream';
import { createGunzip } from 'node:zlib';
import { Fault } from '../core/fault.js';

const LINE_MAX = 16 * 1024 * 1024; // bytes; the largest sweep of 100 000 samples takes some 4 MB
const NEWLINE = 0x0a;

/**
 * The lines of a file or of standard input, plain or gzip (told by its first two bytes, RFC 1952). Blank lines are left out.
 * @param input path, or `-` for standard input.
 * @throws {Fault} INPUT_UNREADABLE, INPUT_LINE_BAD for a line that is too long or not UTF-8.
 */
export async function* inputLines(input: string): AsyncGenerator<{ readonly number: number; readonly text: string }> {
  const decoder = new TextDecoder('utf-8', { fatal: true });
  let number = 0;
  for await (const bytes of splitLines(readBytes(input))) {
    number++;
    if (bytes.length > LINE_MAX)
      throw new Fault('INPUT_LINE_BAD', { line: number, reason: `longer than ${LINE_MAX} bytes` });
    let text: string;
    try {
      text = decoder.decode(bytes);
    } catch (cause) {
      throw new Fault('INPUT_LINE_BAD', { line: number, reason: 'not UTF-8 text' }, cause);
    }
    if (text.trim() !== '') yield { number, text };
  }
}

async function* readBytes(input: string): AsyncGenerator<Buffer> {
  const raw: Readable = input === '-' ? process.stdin : createReadStream(input);
  try {
    const chunks: AsyncIterator<Buffer> = raw[Symbol.asyncIterator]();
    let head = Buffer.alloc(0);
    while (head.length < 2) {
      const { done, value } = await chunks.next();
      if (done) break;
      head = Buffer.concat([head, value]);
    }
    const isGzip = head[0] === 0x1f && head[1] === 0x8b;
    const whole = (async function* (): AsyncGenerator<Buffer> {
      yield head;
      yield* { [Symbol.asyncIterator]: () => chunks };
    })();
    if (isGzip)
      yield* pipeline(Readable.from(whole), createGunzip(), () => {}); // an error comes out of the iteration
    else yield* whole;
  } catch (cause) {
    if (!(cause instanceof Error && 'code' in cause)) throw cause; // the system's and zlib's errors have one, bugs have not
    throw new Fault(
      'INPUT_UNREADABLE',
      { input: input === '-' ? 'standard input' : input, reason: cause.message },
      cause,
    );
  } finally {
    raw.destroy();
  }
}

/** Cuts at newlines; one line longer than LINE_MAX is handed on as soon as it is, so that it never fills the memory. */
async function* splitLines(chunks: AsyncIterable<Buffer>): AsyncGenerator<Buffer> {
  let held: Buffer[] = [];
  let length = 0;
  for await (const chunk of chunks) {
    let first = 0;
    for (let end = chunk.indexOf(NEWLINE); end >= 0; end = chunk.indexOf(NEWLINE, first)) {
      yield Buffer.concat([...held, chunk.subarray(first, end)]);
      held = [];
      length = 0;
      first = end + 1;
    }
    held.push(chunk.subarray(first));
    length += chunk.length - first;
    if (length > LINE_MAX) yield Buffer.concat(held);
  }
  if (length > 0) yield Buffer.concat(held);
}
