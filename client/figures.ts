// What a line of figures above a declaration does when it is pressed: the hover of the thing, with all of its figures, opens there.
import { commands, type Disposable, type Position, Selection, Uri, window } from 'vscode';

/** The command that the server puts behind its lines of figures. */
export function registerFigures(): Disposable {
  return commands.registerCommand('fettle.showFigures', async (uri: string, place: Position) => {
    const editor = await window.showTextDocument(Uri.parse(uri));
    editor.selection = new Selection(place.line, place.character, place.line, place.character);
    await commands.executeCommand('editor.action.showHover');
  });
}
