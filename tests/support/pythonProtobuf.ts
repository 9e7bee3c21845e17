import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const SCRIPT = fileURLToPath(new URL('pythonProtobuf.py', import.meta.url));
const PYTHON = '/usr/bin/python3'; // Debian's own: another python3 earlier on PATH does not see Debian's modules

export type Task = { readonly type: string } & ({ readonly proto: Uint8Array } | { readonly json: string });
/** What the other implementation made of a message: both forms, or why it did not accept it. */
export type Answer = { readonly proto: Uint8Array; readonly json: string } | { readonly error: string };

/** @returns why the independent implementation cannot be asked here; undefined where it can. */
export function whyNoPython(): string | undefined {
  if (spawnSync(PYTHON, ['-c', 'import google.protobuf']).status !== 0)
    return `${PYTHON} has no protobuf (apt-get install python3-protobuf)`;
  if (spawnSync('protoc', ['--version']).status !== 0) return 'there is no protoc (apt-get install protobuf-compiler)';
  return undefined;
}

/** Gives every message to Debian's python3-protobuf, in one process. @returns one answer a task, in order. */
export function askPython(tasks: readonly Task[]): Answer[] {
  const folder = mkdtempSync(join(tmpdir(), 'leeway-python-'));
  try {
    const protos = readdirSync(join(ROOT, 'proto/leeway/v1')).map((name) => `leeway/v1/${name}`);
    run('protoc', [`-I${join(ROOT, 'proto')}`, `--python_out=${folder}`, ...protos], '');
    const lines = tasks.map((task) =>
      JSON.stringify('proto' in task ? { type: task.type, proto: Buffer.from(task.proto).toString('base64') } : task),
    );
    const answers = run(PYTHON, [SCRIPT, folder], `${lines.join('\n')}\n`)
      .trimEnd()
      .split('\n');
    if (answers.length !== tasks.length) throw new Error(`${answers.length} answers to ${tasks.length} tasks`);
    return answers.map((line) => {
      const answer = JSON.parse(line);
      return 'error' in answer
        ? answer
        : { proto: new Uint8Array(Buffer.from(answer.proto, 'base64')), json: answer.json };
    });
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function run(command: string, options: string[], input: string): string {
  const { status, stdout, stderr } = spawnSync(command, options, { input, encoding: 'utf8', maxBuffer: 1 << 30 });
  if (status !== 0) throw new Error(`${command} failed: ${stderr}`);
  return stdout;
}
