// The language server in a process of its own (see `fettle serve`), over the channel that the editor asks for: its own pipe, or standard
// input and output.
import { setFlagsFromString } from 'node:v8';
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { startServer } from '../protocol/server.ts';
import { addressOf, diskHost, fettleFilesBelow, pathOf } from '../workspace/disk.ts';

// What an edit leaves behind is let go of soon: without this the process grows to several times what it holds.
setFlagsFromString('--heap-growing-percent=40');

startServer(createConnection(ProposedFeatures.all), {
  disk: diskHost,
  onFault(tell) {
    process.on('uncaughtException', tell);
    process.on('unhandledRejection', tell);
  },
  filesBelow: (root) => {
    const folder = pathOf(root);
    return folder === undefined ? [] : fettleFilesBelow(folder).map(addressOf);
  },
});
