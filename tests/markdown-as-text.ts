// Lets the test runner import a help page, or a spec of the library, as text, as the bundler does. Nothing else is transformed here.
import type { Plugin } from 'vitest/config';

/** The Vite plugin behind `import page from './page.md'`. */
export function markdownAsText(): Plugin {
  return {
    name: 'markdown-as-text',
    enforce: 'pre',
    transform(text, id) {
      return /\.(md|fettle)$/.test(id) ? { code: `export default ${JSON.stringify(text)};`, map: null } : undefined;
    },
  };
}
