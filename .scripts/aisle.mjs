// `npm run aisle -- [URL] [TOKEN]`: the aisle example against a running daemon, until Ctrl-C.
import { bundle } from './bundle.mjs';

const [url = 'http://127.0.0.1:5339', token] = process.argv.slice(2);
const made = await bundle('clients/typescript/examples/aisle.ts', 'aisle');
const { driveAisle } = await import(made);
driveAisle(url, token);
