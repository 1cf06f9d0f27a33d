// A picture as an address that holds all of it, for where nothing else can be shown: the hover of an editor.
import { utf8ToBytes } from '@noble/hashes/utils.js';
import type { Picture } from './drawing.tsx';
import { pictureFile } from './picture-file.tsx';

const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

export function base64(bytes: Uint8Array): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += 3) {
    const three = ((bytes[i] ?? 0) << 16) | ((bytes[i + 1] ?? 0) << 8) | (bytes[i + 2] ?? 0);
    const have = bytes.length - i;
    text += `${LETTERS[three >> 18]}${LETTERS[(three >> 12) & 63]}${have > 1 ? LETTERS[(three >> 6) & 63] : '='}${have > 2 ? LETTERS[three & 63] : '='}`;
  }
  return text;
}

export function dataAddress(picture: Picture): string {
  return `data:image/svg+xml;base64,${base64(utf8ToBytes(pictureFile(picture)))}`;
}
