// The frame of the panel "Where the engine stands": its buttons, its colours, its one script. The policy allows that script and that style,
// by a word made anew each time, and nothing else.
import { l10n } from 'vscode';

function once(): string {
  const letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789';
  const bytes = globalThis.crypto.getRandomValues(new Uint8Array(24));
  return Array.from(bytes, (byte) => letters[byte % letters.length]).join('');
}

const plain = (text: string): string => text.replace(/[&<>"]/g, (letter) => `&#${letter.charCodeAt(0)};`);

/** The whole page, empty; what it shows is sent to it. */
export function standingPage(): string {
  const nonce = once();
  const policy = `default-src 'none'; style-src 'nonce-${nonce}'; script-src 'nonce-${nonce}'`;
  const label = (text: string): string => plain(l10n.t(text));
  return `<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<title>${label('Where the engine stands')}</title>
<style nonce="${nonce}">${style}</style></head>
<body>
<header>
<button type="button" id="back">${label('Back')}</button>
<button type="button" id="next">${label('Next action')}</button>
<label id="job-choice" hidden>${label('Job')} <select id="job"></select></label>
<label id="variant-choice" hidden>${label('Variant')} <select id="variant"></select></label>
</header>
<main id="now" aria-live="polite"></main>
<script nonce="${nonce}">${script}</script>
</body></html>`;
}

const style = `
  body { font-size: 1.05em; line-height: 1.45; color: var(--vscode-editor-foreground); padding: 0 1.2em 2em; }
  header { position: sticky; top: 0; display: flex; flex-wrap: wrap; gap: 0.6em; align-items: center; padding: 0.7em 0; background: var(--vscode-editor-background); }
  button { font: inherit; padding: 0.45em 1.1em; border: 1px solid var(--vscode-button-border, transparent); border-radius: 3px; color: var(--vscode-button-foreground); background: var(--vscode-button-background); cursor: pointer; }
  button:hover { background: var(--vscode-button-hoverBackground); }
  button:focus-visible, select:focus-visible { outline: 2px solid var(--vscode-focusBorder); outline-offset: 2px; }
  select { font: inherit; color: var(--vscode-dropdown-foreground); background: var(--vscode-dropdown-background); border: 1px solid var(--vscode-dropdown-border); padding: 0.3em; }
  h1 { font-size: 1.35em; margin: 0.3em 0; }
  .at { display: flex; justify-content: space-between; gap: 1em; margin: 0 0 0.8em; }
  .at span { white-space: nowrap; color: var(--vscode-descriptionForeground); }
  code { font-family: var(--vscode-editor-font-family); color: inherit; }
  dt { font-weight: 600; margin-top: 0.7em; }
  dd { margin: 0.15em 0 0; }
  ul { margin: 0; padding-left: 1.1em; }
  svg { display: block; max-width: 100%; height: auto; margin-top: 1.2em; background: #fff; }
  /* The pictures are black on white. */
  .vscode-dark svg, .vscode-high-contrast:not(.vscode-high-contrast-light) svg { filter: invert(0.88) hue-rotate(180deg); }
`;

const script = `
  const host = acquireVsCodeApi();
  const now = document.getElementById('now');
  const press = (id, go) => document.getElementById(id).addEventListener('click', () => host.postMessage({ go }));
  press('back', 'back');
  press('next', 'next');
  addEventListener('keydown', (event) => {
    if (event.target instanceof HTMLSelectElement) return;
    if (event.key === 'ArrowRight') host.postMessage({ go: 'next' });
    if (event.key === 'ArrowLeft') host.postMessage({ go: 'back' });
  });
  const fill = (name, all, chosen) => {
    const select = document.getElementById(name);
    document.getElementById(name + '-choice').hidden = all.length < 2;
    select.replaceChildren(...all.map((each) => new Option(each, each, false, each === chosen)));
  };
  for (const name of ['job', 'variant'])
    document.getElementById(name).addEventListener('change', (event) => host.postMessage({ [name]: event.target.value }));
  addEventListener('message', ({ data }) => {
    fill('job', data.jobs || [], data.job);
    fill('variant', data.variants || [], data.variant);
    if (data.html) now.innerHTML = data.html;
    else now.textContent = data.nothing;
  });
`;
