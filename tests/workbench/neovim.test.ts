// The server in an editor that nobody here wrote: Neovim, over standard input and output, set up with the lines of the README.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { otherEditor } from './other-editor.ts';

/** What the editor has to tell, written by the script below. */
interface Told {
  readonly diagnostics: readonly { readonly message: string; readonly lnum: number; readonly code?: string }[];
  readonly hover: string;
  readonly actions: readonly string[];
  readonly after: string;
}

/** Asks for findings, hover and code actions as a user's keys would, takes the first fix, and writes what came. */
const script = `
local function answer(method, params)
  local answers = vim.lsp.buf_request_sync(0, method, params, 10000) or {}
  for _, each in pairs(answers) do return each.result end
end
vim.wait(20000, function() return #vim.diagnostic.get(0) > 0 end, 50)
local found = vim.diagnostic.get(0)
local told = { diagnostics = {}, actions = {} }
for _, each in ipairs(found) do
  table.insert(told.diagnostics, { message = each.message, lnum = each.lnum, code = each.user_data and each.user_data.lsp.code or each.code })
end
vim.api.nvim_win_set_cursor(0, { 4, 12 })
local position = vim.lsp.util.make_position_params()
local hover = answer('textDocument/hover', position)
told.hover = hover and hover.contents.value or ''
vim.api.nvim_win_set_cursor(0, { found[1].lnum + 1, found[1].col })
local range = vim.lsp.util.make_range_params()
range.context = { diagnostics = vim.lsp.diagnostic.get_line_diagnostics(0, found[1].lnum) }
local actions = answer('textDocument/codeAction', range) or {}
for _, each in ipairs(actions) do table.insert(told.actions, each.title) end
local first = actions[1]
if first and not first.edit then first = answer('codeAction/resolve', first) end
if first then vim.lsp.util.apply_workspace_edit(first.edit, 'utf-16') end
told.after = table.concat(vim.api.nvim_buf_get_lines(0, 0, -1, false), '\\n')
vim.fn.writefile({ vim.fn.json_encode(told) }, 'told.json')
vim.cmd('qa!')
`;

const neovim = otherEditor('Neovim');
let told: Told;

beforeAll(() => {
  neovim.write('init.lua', neovim.lines('lua'));
  neovim.write('ask.lua', script);
  neovim.run('nvim', ['--headless', '-n', '-u', 'init.lua', 'head.fettle', '-c', 'luafile ask.lua']);
  told = neovim.told('told.json') as Told;
});

afterAll(() => neovim.close());

test('findings arrive, at their line and in their words', () => {
  const comma = told.diagnostics.find(({ lnum }) => lnum === 8);
  expect(comma?.message).toMatch(/24\.5/);
});

test('the hover tells what is worked out', () => {
  expect(told.hover).toContain('**head\\-bolt**');
  expect(told.hover).toMatch(/of its proof load/);
});

test('the first code action puts the fault right', () => {
  expect(told.actions[0]).toMatch(/24\.5/);
  expect(told.after).toContain('torque 24.5 N.m');
});
