// The language server on Node: over IPC from the editor, or over standard input and output for any editor.
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { startServer } from '../protocol/server.ts';
import { addressOf, diskHost, fettleFilesBelow, pathOf } from '../workspace/disk.ts';

if (!process.argv.some((each) => /^--(?:stdio|node-ipc|socket|pipe)/.test(each))) process.argv.push('--stdio');

startServer(createConnection(ProposedFeatures.all), {
  disk: diskHost,
  filesBelow(root) {
    const folder = pathOf(root);
    return folder === undefined ? [] : fettleFilesBelow(folder, 2000).map(addressOf);
  },
});
