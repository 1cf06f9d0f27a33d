// The server in Emacs with Eglot, over standard input and output, set up with the lines of the README.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { otherEditor } from './other-editor.ts';

/** What the editor has to tell, written by the script below. */
interface Told {
  readonly findings: readonly string[];
  readonly hover: string;
  readonly actions: readonly string[];
  readonly after: string;
}

/** Starts Eglot as a user does, waits for findings, asks for hover and code actions, takes the first, and writes what came. */
const script = `
(require 'json)
(require 'eglot)
(setq eglot-confirm-server-initiated-edits nil)
(defun wait-for (ready)
  (let ((end (+ (float-time) 20)))
    (while (and (not (funcall ready)) (< (float-time) end)) (accept-process-output nil 0.05))))
(find-file "head.fettle")
(call-interactively #'eglot)
(flymake-mode 1)
(wait-for (lambda () (flymake-start) (flymake-diagnostics)))
(let* ((found (flymake-diagnostics))
       (texts (mapcar (lambda (each) (format "%d: %s" (line-number-at-pos (flymake-diagnostic-beg each)) (flymake-diagnostic-text each))) found))
       (server (eglot--current-server-or-lose))
       (first (car found))
       hover actions)
  (goto-char (point-min))
  (search-forward "fastener head")
  (setq hover (jsonrpc-request server :textDocument/hover (eglot--TextDocumentPositionParams)))
  (setq actions (eglot-code-actions (flymake-diagnostic-beg first) (flymake-diagnostic-end first)))
  (eglot--apply-workspace-edit (plist-get (car actions) :edit))
  (let ((after (buffer-string)))
    (with-temp-file "told.json"
      (insert (json-encode (list :findings (vconcat texts)
                                 :hover (plist-get (plist-get hover :contents) :value)
                                 :actions (vconcat (mapcar (lambda (each) (plist-get each :title)) actions))
                                 :after after)))))
  (set-buffer-modified-p nil))
`;

const emacs = otherEditor('Emacs');
let told: Told;

beforeAll(() => {
  emacs.write('init.el', emacs.lines('lisp'));
  emacs.write('ask.el', script);
  emacs.run('emacs', ['--batch', '-f', 'package-initialize', '-l', 'init.el', '-l', 'ask.el']);
  told = emacs.told('told.json') as Told;
});

afterAll(() => emacs.close());

test('findings arrive, at their line and in their words', () => {
  expect(told.findings).toEqual([expect.stringMatching(/^9: .*24\.5/)]);
});

test('the hover tells what is worked out', () => {
  expect(told.hover).toContain('**head\\-bolt**');
  expect(told.hover).toMatch(/of its proof load/);
});

test('the first code action puts the fault right', () => {
  expect(told.actions[0]).toMatch(/24\.5/);
  expect(told.after).toContain('torque 24.5 N.m');
});
