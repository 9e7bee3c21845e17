// pages.mjs URL COUNT: as many clients as that, each asking for what an open page asks for, until it is killed.
import { connect } from '../../dist/client/client.js';

const [url, count] = process.argv.slice(2);
for (let i = 0; i < Number(count); i++)
  connect(url, { wants: ['clearance', 'health', 'motion', 'movers', 'shapes', 'sweep', 'run'] });
