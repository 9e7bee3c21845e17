// `npm run --silent score-feed`: builds what is missing or out of date, then reads sweeps on standard input (src/cli/scoreFeed.ts).
import './fresh.mjs';

await import('../dist/cli/scoreFeed.js');
