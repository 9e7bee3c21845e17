import { closeSync, mkdirSync, openSync, renameSync, rmSync, writeSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileWriter, ParquetWriter, schemaFromColumnData } from 'hyparquet-writer';
import type { Cell, Column } from './tables.js';

export const EXPORT_FORMATS = ['parquet', 'csv', 'ndjson'] as const;
export type ExportFormat = (typeof EXPORT_FORMATS)[number];

/** A table being written; the file appears whole or not at all. */
export interface TableWriter {
  /** In the order of the columns. */
  put(row: readonly Cell[]): void;
  /** @returns how many rows. */
  finish(): number;
  /** Leaves nothing behind. */
  abandon(): void;
}

/** @param path of the file that appears at {@link TableWriter.finish}. */
export function openTable(path: string, columns: readonly Column[], format: ExportFormat): TableWriter {
  mkdirSync(dirname(path), { recursive: true });
  if (format === 'parquet') return new ParquetTable(path, columns);
  return new TextTable(path, columns, format === 'csv');
}

const GROUP_ROWS = 100_000; // a row group: some MB in memory, and what a reader skips by its statistics

class ParquetTable implements TableWriter {
  readonly #path: string;
  readonly #columns: readonly Column[];
  readonly #writer: ParquetWriter;
  #data: Cell[][];
  #rows = 0;

  constructor(path: string, columns: readonly Column[]) {
    this.#path = path;
    this.#columns = columns;
    this.#data = columns.map(() => []);
    // all may be NULL but the two that say which run and when
    const columnData = columns.map(({ name, type }, i) => ({ name, type, data: [], nullable: i > 1 }));
    this.#writer = new ParquetWriter({
      writer: fileWriter(`${path}.part`),
      schema: schemaFromColumnData({ columnData }),
    });
  }

  put(row: readonly Cell[]): void {
    for (let i = 0; i < row.length; i++) this.#data[i].push(row[i]);
    this.#rows++;
    if (this.#data[0].length >= GROUP_ROWS) this.#flush();
  }

  finish(): number {
    this.#flush();
    this.#writer.finish();
    renameSync(`${this.#path}.part`, this.#path);
    return this.#rows;
  }

  abandon(): void {
    rmSync(`${this.#path}.part`, { force: true });
  }

  #flush(): void {
    if (this.#data[0].length === 0) return;
    this.#writer.write({
      columnData: this.#columns.map(({ name }, i) => ({ name, data: this.#data[i] })),
      rowGroupSize: GROUP_ROWS,
    });
    this.#data = this.#columns.map(() => []);
  }
}

const BUFFERED_MAX = 1 << 20; // characters

class TextTable implements TableWriter {
  readonly #path: string;
  readonly #columns: readonly Column[];
  readonly #isCsv: boolean;
  readonly #file: number;
  #text = '';
  #rows = 0;

  constructor(path: string, columns: readonly Column[], isCsv: boolean) {
    this.#path = path;
    this.#columns = columns;
    this.#isCsv = isCsv;
    this.#file = openSync(`${path}.part`, 'w');
    if (isCsv) this.#text = `${columns.map(({ name }) => name).join(',')}\r\n`; // RFC 4180
  }

  put(row: readonly Cell[]): void {
    this.#rows++;
    this.#text += this.#isCsv
      ? `${row.map(csvCell).join(',')}\r\n`
      : `${JSON.stringify(Object.fromEntries(this.#columns.map(({ name }, i) => [name, row[i]])))}\n`;
    if (this.#text.length > BUFFERED_MAX) this.#flush();
  }

  finish(): number {
    this.#flush();
    closeSync(this.#file);
    renameSync(`${this.#path}.part`, this.#path);
    return this.#rows;
  }

  abandon(): void {
    closeSync(this.#file);
    rmSync(`${this.#path}.part`, { force: true });
  }

  #flush(): void {
    writeSync(this.#file, this.#text);
    this.#text = '';
  }
}

function csvCell(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return String(cell);
  return /[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}
