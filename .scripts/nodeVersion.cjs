// Says plainly that a Node is too old, before anything modern is parsed. Plain old JavaScript on purpose.
// `node -r ./.scripts/nodeVersion.cjs X`, or `node .scripts/nodeVersion.cjs && X`. src/cli/nodeVersion.ts says the same of the built program.
'use strict';
var parts = process.versions.node.split('.');
var major = Number(parts[0]);
var minor = Number(parts[1]);
if (major < 22 || (major === 22 && minor < 17)) {
  process.stderr.write(
    'this Node is too old [NODE_TOO_OLD]: ' +
      process.version +
      ', needed is 22.17 or newer.\n' +
      'Run through npm or npx in the project folder (they bring Node 24), or install Node 22.17 or newer.\n',
  );
  process.exit(1);
}
