// `npm start [-- OPTIONS]`: builds what is missing or out of date, then is `leeway serve OPTIONS`.
import './fresh.mjs';
import { join, resolve } from 'node:path';

const ROOT = resolve(import.meta.dirname, '..');
process.chdir(process.env.INIT_CWD ?? ROOT); // npm moved to the project; paths are meant from where the user stands
const main = join(ROOT, 'dist/main.js');
process.argv = [process.argv[0], main, 'serve', ...process.argv.slice(2)];
await import(main);
