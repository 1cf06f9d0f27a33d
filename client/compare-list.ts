// The list of what changed: by weight, each change with its two sides. Where it comes from is in compare.ts.
import {
  type Command,
  EventEmitter,
  l10n,
  Range,
  ThemeIcon,
  TreeItem,
  TreeItemCollapsibleState,
  type TreeView,
  Uri,
  window,
} from 'vscode';
import type { ReviewedChange, ReviewedPlace } from '../server/protocol/messages.ts';

/** What is compared, and what changed. */
export interface Compared {
  readonly old: Uri;
  readonly now: Uri;
  readonly title: string;
  readonly changes: readonly ReviewedChange[];
}

type Weight = ReviewedChange['weight'];

interface Group {
  readonly weight: Weight;
}
interface Side {
  readonly label: string;
  readonly text: string;
  readonly place: ReviewedPlace | undefined;
}
type Node = Group | ReviewedChange | Side;

/** The same three all along, so that the view keeps which are open. */
const GROUPS: readonly Group[] = [{ weight: 'critical' }, { weight: 'matters' }, { weight: 'wording' }];
const ICONS = { changed: 'diff-modified', added: 'diff-added', removed: 'diff-removed', moved: 'arrow-swap' } as const;
const GROUP_ICONS = { critical: 'warning', matters: 'tools', wording: 'quote' } as const;

function weightLabel(weight: Weight): string {
  if (weight === 'critical') return l10n.t('Critical');
  return weight === 'matters' ? l10n.t('Matters') : l10n.t('Wording');
}

function kindLabel(kind: ReviewedChange['kind']): string {
  if (kind === 'changed') return l10n.t('changed');
  if (kind === 'added') return l10n.t('new');
  return kind === 'removed' ? l10n.t('gone') : l10n.t('moved');
}

const isGroup = (node: Node): node is Group => 'weight' in node && !('kind' in node);
const isChange = (node: Node): node is ReviewedChange => 'kind' in node;

function rangeOf({ range: { start, end } }: ReviewedPlace): Range {
  return new Range(start.line, start.character, end.line, end.character);
}

/** Goes to a place: in the comparison where it is the new spec's, else in the file itself. */
function goTo(place: ReviewedPlace, { old, now, title }: Compared): Command {
  const selection = rangeOf(place);
  return place.uri === now.toString()
    ? { command: 'vscode.diff', title: l10n.t('Show'), arguments: [old, now, title, { selection }] }
    : { command: 'vscode.open', title: l10n.t('Show'), arguments: [Uri.parse(place.uri), { selection }] };
}

function sidesOf({ old, new: now, oldPlace, newPlace }: ReviewedChange): readonly Side[] {
  return [
    ...(old === undefined ? [] : [{ label: l10n.t('Old'), text: old, place: oldPlace }]),
    ...(now === undefined ? [] : [{ label: l10n.t('New'), text: now, place: newPlace }]),
  ];
}

function changeItem(change: ReviewedChange, compared: Compared): TreeItem {
  const item = new TreeItem(change.message, TreeItemCollapsibleState.Collapsed);
  const variants = change.variants?.join(', ') ?? '';
  item.iconPath = new ThemeIcon(ICONS[change.kind]);
  item.description = variants;
  item.tooltip = variants === '' ? change.message : `${change.message} (${variants})`;
  item.accessibilityInformation = {
    label: `${weightLabel(change.weight)}, ${kindLabel(change.kind)}: ${item.tooltip}`,
  };
  const place = change.newPlace ?? change.oldPlace;
  if (place !== undefined) item.command = goTo(place, compared);
  return item;
}

function sideItem({ label, text, place }: Side, compared: Compared): TreeItem {
  const item = new TreeItem(label, TreeItemCollapsibleState.None);
  item.description = text;
  item.tooltip = text;
  item.accessibilityInformation = { label: `${label}: ${text}` };
  if (place !== undefined) item.command = goTo(place, compared);
  return item;
}

function groupItem({ weight }: Group, many: number): TreeItem {
  const item = new TreeItem(weightLabel(weight), TreeItemCollapsibleState.Expanded);
  item.id = weight;
  item.iconPath = new ThemeIcon(GROUP_ICONS[weight]);
  item.description = String(many);
  item.accessibilityInformation = { label: `${weightLabel(weight)}: ${many}` };
  return item;
}

export interface ChangeList {
  show(compared: Compared): void;
  /** Says something in place of the list. */
  say(text: string): void;
  dispose(): void;
}

/** The view below the texts. */
export function createChangeList(): ChangeList {
  const refreshed = new EventEmitter<undefined>();
  let compared: Compared | undefined;
  const of = (weight: Weight): readonly ReviewedChange[] =>
    compared?.changes.filter((change) => change.weight === weight) ?? [];
  const children = (node: Node | undefined): Node[] => {
    if (node === undefined) return GROUPS.filter(({ weight }) => of(weight).length > 0);
    if (isGroup(node)) return [...of(node.weight)];
    return isChange(node) ? [...sidesOf(node)] : [];
  };
  const view: TreeView<Node> = window.createTreeView('fettleChanges', {
    showCollapseAll: true,
    treeDataProvider: {
      onDidChangeTreeData: refreshed.event,
      getChildren: children,
      getTreeItem(node) {
        if (isGroup(node)) return groupItem(node, of(node.weight).length);
        if (compared === undefined) return new TreeItem('');
        return isChange(node) ? changeItem(node, compared) : sideItem(node, compared);
      },
    },
  });
  const set = (next: Compared | undefined, message: string | undefined): void => {
    compared = next;
    view.description = next?.title ?? '';
    view.message = message ?? '';
    refreshed.fire(undefined);
  };
  return {
    show: (next) => set(next, next.changes.length === 0 ? l10n.t('Nothing changed in meaning.') : undefined),
    say: (text) => set(undefined, text),
    dispose() {
      view.dispose();
      refreshed.dispose();
    },
  };
}
