// A folder that lives in the browser's memory, for the test of the browser build: filled from files.json beside this
// file. It can read, write, make and delete, and no more.
const vscode = require('vscode');

exports.activate = async (context) => {
  const list = await vscode.workspace.fs.readFile(vscode.Uri.joinPath(context.extensionUri, 'files.json'));
  const files = new Map();
  const folders = new Set(['/']);
  const changes = new vscode.EventEmitter();
  const tell = (type, uri) => changes.fire([{ type, uri }]);
  const notThere = (uri) => vscode.FileSystemError.FileNotFound(uri);

  const put = (path, bytes) => {
    for (let cut = path.lastIndexOf('/'); cut > 0; cut = path.lastIndexOf('/', cut - 1))
      folders.add(path.slice(0, cut));
    files.set(path, { bytes, time: Date.now() });
  };
  const childrenOf = (path) => {
    const start = path === '/' ? '/' : `${path}/`;
    const isChild = (other) =>
      other.length > start.length && other.startsWith(start) && !other.slice(start.length).includes('/');
    return [
      ...[...folders].filter(isChild).map((other) => [other.slice(start.length), vscode.FileType.Directory]),
      ...[...files.keys()].filter(isChild).map((other) => [other.slice(start.length), vscode.FileType.File]),
    ];
  };

  for (const [path, text] of Object.entries(JSON.parse(new TextDecoder().decode(list)))) {
    put(path, new TextEncoder().encode(text));
  }
  const provider = {
    onDidChangeFile: changes.event,
    watch: () => ({ dispose() {} }),
    stat(uri) {
      const file = files.get(uri.path);
      if (file) return { type: vscode.FileType.File, ctime: file.time, mtime: file.time, size: file.bytes.length };
      if (folders.has(uri.path)) return { type: vscode.FileType.Directory, ctime: 0, mtime: 0, size: 0 };
      throw notThere(uri);
    },
    readDirectory(uri) {
      if (!folders.has(uri.path)) throw notThere(uri);
      return childrenOf(uri.path);
    },
    readFile(uri) {
      const file = files.get(uri.path);
      if (!file) throw notThere(uri);
      return file.bytes;
    },
    writeFile(uri, bytes) {
      const type = files.has(uri.path) ? vscode.FileChangeType.Changed : vscode.FileChangeType.Created;
      put(uri.path, bytes);
      tell(type, uri);
    },
    createDirectory(uri) {
      folders.add(uri.path);
      tell(vscode.FileChangeType.Created, uri);
    },
    delete(uri) {
      if (!files.delete(uri.path) && !folders.delete(uri.path)) throw notThere(uri);
      tell(vscode.FileChangeType.Deleted, uri);
    },
    rename(from, to) {
      const file = files.get(from.path);
      if (!file) throw notThere(from);
      files.delete(from.path);
      put(to.path, file.bytes);
      tell(vscode.FileChangeType.Deleted, from);
      tell(vscode.FileChangeType.Created, to);
    },
  };
  context.subscriptions.push(
    vscode.workspace.registerFileSystemProvider('memory', provider, { isCaseSensitive: true }),
  );
};
