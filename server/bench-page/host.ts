// Where the page is: in a browser by itself, or in a panel of VS Code, which writes the record's file itself.

interface CodeApi {
  postMessage(message: object): void;
}

/** What the page says to the panel. */
export type ToPanel =
  | { readonly kind: 'ready' }
  /** The record as it is now, and which telling of the file it was made from. The panel writes it only where that is the last. */
  | { readonly kind: 'record'; readonly text: string; readonly telling: number };

/** What the panel says to the page. */
export type FromPanel =
  /** The job was made anew from the spec. */
  | { readonly kind: 'job'; readonly job: string }
  /** The record's file as it stands, and the how manieth telling this is. */
  | { readonly kind: 'file'; readonly text: string; readonly name: string; readonly telling: number }
  /** There is no file yet: the engine that it will be of. */
  | { readonly kind: 'begin'; readonly engine: string; readonly telling: number }
  /** It was written as the page said. */
  | { readonly kind: 'written'; readonly text: string }
  /** It could not be written: why. */
  | { readonly kind: 'refused'; readonly why: string };

export interface Panel {
  say(message: ToPanel): void;
  listen(hear: (message: FromPanel) => void): void;
}

/** The panel round the page; undefined in a browser. */
export function panelRound(): Panel | undefined {
  const acquire = (globalThis as { readonly acquireVsCodeApi?: () => CodeApi }).acquireVsCodeApi;
  if (acquire === undefined) return undefined;
  const api = acquire();
  return {
    say: (message) => api.postMessage(message),
    listen: (hear) => globalThis.addEventListener('message', (event) => hear(event.data as FromPanel)),
  };
}

/** Hands a file to the browser to be saved. */
export function download(name: string, text: string): void {
  const address = URL.createObjectURL(new Blob([text], { type: 'text/plain;charset=utf-8' }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** Puts a text where it can be pasted from; false where the browser does not let us. */
export async function copy(text: string): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    const area = document.createElement('textarea');
    area.value = text;
    document.body.append(area);
    area.select();
    const done = document.execCommand('copy');
    area.remove();
    return done;
  }
}

/** Whether a file can be handed to another program on the tablet. */
export function canShare(): boolean {
  try {
    return navigator.canShare?.({ files: [new File(['x'], 'x.txt', { type: 'text/plain' })] }) === true;
  } catch {
    return false;
  }
}

export async function share(name: string, text: string): Promise<void> {
  try {
    await navigator.share({
      files: [new File([text], name.replace(/\.fettle$/, '.fettle.txt'), { type: 'text/plain' })],
      title: name,
    });
  } catch {
    // Turned away.
  }
}

/** Keeps the screen from going dark while the page is looked at, where the browser can. */
export function stayAwake(): void {
  const ask = async (): Promise<void> => {
    try {
      if (document.visibilityState === 'visible') await navigator.wakeLock?.request('screen');
    } catch {
      // Not here, or not now.
    }
  };
  void ask();
  document.addEventListener('visibilitychange', () => void ask());
}
