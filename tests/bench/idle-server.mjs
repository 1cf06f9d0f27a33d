// A language server that answers everything with nothing: the floor that any server stands on.
let buffer = Buffer.alloc(0);
const send = (message) => {
  const text = JSON.stringify({ jsonrpc: '2.0', ...message });
  process.stdout.write(`Content-Length: ${Buffer.byteLength(text)}\r\n\r\n${text}`);
};
process.stdin.on('data', (data) => {
  buffer = Buffer.concat([buffer, data]);
  for (;;) {
    const head = buffer.indexOf('\r\n\r\n');
    if (head < 0) return;
    const length = Number(/Content-Length: (\d+)/.exec(buffer.subarray(0, head).toString())?.[1]);
    if (buffer.length < head + 4 + length) return;
    const message = JSON.parse(buffer.subarray(head + 4, head + 4 + length).toString());
    buffer = buffer.subarray(head + 4 + length);
    if (message.id !== undefined)
      send({ id: message.id, result: message.method === 'initialize' ? { capabilities: {} } : null });
    else if (message.params?.textDocument !== undefined) {
      send({
        method: 'textDocument/publishDiagnostics',
        params: { uri: message.params.textDocument.uri, diagnostics: [] },
      });
    }
  }
});
