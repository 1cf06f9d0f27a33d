// All of Fettle that has no window, in one bundle: the command and its server where there is a Node, the server alone in a worker of the
// browser. One file serves both, since all but the way in is the same. It is started by dist/fettle.js (way-in.ts), or by the browser.

/** What only a worker of a browser has. */
const isWorker = 'importScripts' in globalThis && !('process' in globalThis);

if (isWorker) void import('./worker-server.ts');
else void import('./command.ts');
