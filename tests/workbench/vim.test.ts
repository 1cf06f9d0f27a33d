// The server in Vim with ALE, over standard input and output, set up with the lines of the README.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { otherEditor } from './other-editor.ts';

/** What the editor has to tell, written by the script below. */
interface Told {
  readonly findings: readonly string[];
  readonly hover: readonly string[];
}

/** Waits for findings, asks for the hover, and writes what came. */
const script = `
function! s:Wait(ready) abort
  let l:left = 400
  while l:left > 0 && !a:ready()
    sleep 50m
    let l:left -= 1
  endwhile
endfunction
let s:spec = bufnr('')
call s:Wait({-> len(ale#engine#GetLoclist(s:spec)) > 0})
let s:told = {'findings': map(copy(ale#engine#GetLoclist(s:spec)), {_, each -> each.lnum . ': ' . each.text}), 'hover': []}
call cursor(4, 13)
let g:ale_hover_to_floating_preview = 0
let g:ale_hover_to_preview = 1
ALEHover
call s:Wait({-> winnr('$') > 1})
for s:window in range(1, winnr('$'))
  if winbufnr(s:window) != s:spec | let s:told.hover = getbufline(winbufnr(s:window), 1, '$') | endif
endfor
call writefile([json_encode(s:told)], 'told.json')
qall!
`;

const vim = otherEditor('Vim');
let told: Told;

beforeAll(() => {
  vim.write('vimrc', vim.lines('vim'));
  vim.write('ask.vim', script);
  vim.run('vim', ['-N', '-u', 'vimrc', '-i', 'NONE', '-n', '--not-a-term', 'head.fettle', '-S', 'ask.vim']);
  told = vim.told('told.json') as Told;
});

afterAll(() => vim.close());

test('findings arrive, at their line and in their words', () => {
  expect(told.findings).toEqual([expect.stringMatching(/^9: .*24\.5/)]);
});

test('the hover tells what is worked out', () => {
  expect(told.hover.join('\n')).toMatch(/of its proof load/);
});
