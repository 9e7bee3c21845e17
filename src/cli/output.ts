import { once } from 'node:events';
import { createWriteStream, existsSync, realpathSync, statSync } from 'node:fs';
import { rename, rm } from 'node:fs/promises';
import type { Writable } from 'node:stream';
import { Fault } from '../core/fault.js';

/** Where result lines go. */
export interface Output {
  /** Waits while the reader is slower. @returns false when the reader has gone and wants no more. @throws {Fault} OUTPUT_UNWRITABLE. */
  write(line: string): Promise<boolean>;
  /** Makes the result stand. @throws {Fault} OUTPUT_UNWRITABLE. */
  finish(): Promise<void>;
  /** Leaves nothing behind that could be taken for a result. */
  abandon(): Promise<void>;
}

/** @param file undefined: standard output. A file appears whole or not at all; a device or pipe is written to directly. */
export function openOutput(file: string | undefined): Output {
  if (file === undefined) return new StreamOutput(process.stdout, 'standard output');
  const target = existsSync(file) ? realpathSync(file) : file; // a link stays a link
  if (existsSync(target) && !statSync(target).isFile()) return new StreamOutput(createWriteStream(target), file);
  return new FileOutput(target);
}

class StreamOutput implements Output {
  readonly #stream: Writable;
  readonly #name: string;
  #error: Error | undefined;

  constructor(stream: Writable, name: string) {
    this.#stream = stream;
    this.#name = name;
    stream.on('error', (error) => {
      this.#error ??= error;
    });
  }

  async write(line: string): Promise<boolean> {
    try {
      if (this.#error) throw this.#error;
      if (!this.#stream.write(`${line}\n`)) await once(this.#stream, 'drain');
      return true;
    } catch (cause) {
      if (isSystemError(cause) && cause.code === 'EPIPE') return false; // such as | head
      throw unwritable(this.#name, cause);
    }
  }

  async finish(): Promise<void> {
    const isStandard = this.#stream === process.stdout; // never ended: it belongs to the process
    await new Promise<void>((resolve) =>
      isStandard ? this.#stream.write('', () => resolve()) : this.#stream.end(() => resolve()),
    );
    if (this.#error && !(isSystemError(this.#error) && this.#error.code === 'EPIPE'))
      throw unwritable(this.#name, this.#error);
  }

  async abandon(): Promise<void> {}
}

/** Writes beside the target under another name and takes the target's name at the end. */
class FileOutput implements Output {
  readonly #file: string;
  readonly #part: string;
  readonly #stream: Writable;
  readonly #output: StreamOutput;

  constructor(file: string) {
    this.#file = file;
    this.#part = `${file}.${process.pid}.part`;
    this.#stream = createWriteStream(this.#part);
    this.#output = new StreamOutput(this.#stream, file);
  }

  write(line: string): Promise<boolean> {
    return this.#output.write(line);
  }

  async finish(): Promise<void> {
    await this.#output.finish();
    try {
      await rename(this.#part, this.#file);
    } catch (cause) {
      throw unwritable(this.#file, cause);
    }
  }

  async abandon(): Promise<void> {
    this.#stream.destroy();
    if (!this.#stream.closed) await once(this.#stream, 'close').catch(() => {}); // its error was told by write
    await rm(this.#part, { force: true });
  }
}

function isSystemError(value: unknown): value is NodeJS.ErrnoException {
  return value instanceof Error && 'code' in value;
}

function unwritable(output: string, cause: unknown): unknown {
  return isSystemError(cause) ? new Fault('OUTPUT_UNWRITABLE', { output, reason: cause.message }, cause) : cause;
}
