// The language server as a process of its own, over the channel that the editor asks for: its own pipe, or standard
// input and output.
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { startServer } from '../protocol/server.ts';
import { addressOf, diskHost, fettleFilesBelow, pathOf } from '../workspace/disk.ts';

startServer(createConnection(ProposedFeatures.all), {
  disk: diskHost,
  filesBelow: (root) => {
    const folder = pathOf(root);
    return folder === undefined ? [] : fettleFilesBelow(folder).map(addressOf);
  },
});
