// What a job keeps by name or field by field, each an entry of its ledger. There are a dozen of these in each state, and a state is made for each job:
// they are classes, which are made at once.
import { type Entries, type Entry, type Ledger, nothing } from './ledger.ts';

/** What is kept by name, and asked for name by name. */
export class ByName<value> {
  protected readonly ledger: Ledger;
  private readonly values: Entries;

  constructor(ledger: Ledger) {
    this.ledger = ledger;
    this.values = ledger.entries(() => nothing);
  }

  get(name: string): value | undefined {
    return this.ledger.take(this.values.of(name)) as value | undefined;
  }

  has(name: string): boolean {
    return this.get(name) !== undefined;
  }

  set(name: string, value: value): void {
    this.ledger.put(this.values.of(name), value);
  }

  delete(name: string): boolean {
    const was = this.has(name);
    if (was) this.ledger.put(this.values.of(name), undefined);
    return was;
  }
}

const NO_NAMES: readonly string[] = [];

/** The same with the names in the order in which they came. */
export class Listed<value> extends ByName<value> {
  private readonly order: Entry;

  constructor(ledger: Ledger) {
    super(ledger);
    this.order = ledger.entries(() => () => NO_NAMES).of('order');
  }

  keys(): readonly string[] {
    return this.ledger.take(this.order) as readonly string[];
  }

  get size(): number {
    return this.keys().length;
  }

  entries(): readonly (readonly [string, value])[] {
    return this.keys().map((name) => [name, this.get(name) as value] as const);
  }

  override set(name: string, value: value): void {
    if (!this.has(name)) this.ledger.put(this.order, [...this.keys(), name]);
    super.set(name, value);
  }

  override delete(name: string): boolean {
    const was = super.delete(name);
    if (was)
      this.ledger.put(
        this.order,
        this.keys().filter((each) => each !== name),
      );
    return was;
  }

  clear(): void {
    for (const name of this.keys()) super.delete(name);
    this.ledger.put(this.order, NO_NAMES);
  }

  [Symbol.iterator](): Iterator<readonly [string, value]> {
    return this.entries()[Symbol.iterator]();
  }
}

/** Names that are kept in something. */
class NamesIn<all extends ByName<true>> {
  protected readonly all: all;

  constructor(all: all) {
    this.all = all;
  }

  has(name: string): boolean {
    return this.all.has(name);
  }

  add(name: string): void {
    this.all.set(name, true);
  }

  delete(name: string): boolean {
    return this.all.delete(name);
  }
}

/** Names, each asked for by itself. */
export class Names extends NamesIn<ByName<true>> {
  constructor(ledger: Ledger) {
    super(new ByName(ledger));
  }
}

/** The same in the order in which they came. */
export class NameList extends NamesIn<Listed<true>> {
  constructor(ledger: Ledger) {
    super(new Listed(ledger));
  }

  [Symbol.iterator](): Iterator<string> {
    return this.all.keys()[Symbol.iterator]();
  }
}

type Begin<fields> = { readonly [name in keyof fields]: () => fields[name] };

/** An object of a form whose fields are entries; the form is made once for the fields that it has. */
class Fields {
  readonly ledger: Ledger;
  readonly entries: Entries;

  constructor(ledger: Ledger, begin: object) {
    this.ledger = ledger;
    this.entries = ledger.entries((name) => Reflect.get(begin, name) as () => unknown);
  }
}

/**
 * Makes objects whose fields are each asked for by themselves. They all have the fields of the first, which are looked up on it, so that only their
 * beginnings are given for another.
 */
export function fieldByField<fields extends object>(): (ledger: Ledger, begin: Begin<fields>) => fields {
  let form: (new (ledger: Ledger, begin: object) => Fields) | undefined;
  return (ledger, begin) => {
    if (form === undefined) {
      form = class extends Fields {};
      for (const name of Object.keys(begin))
        Object.defineProperty(form.prototype, name, {
          get(this: Fields) {
            return this.ledger.take(this.entries.of(name));
          },
          set(this: Fields, value: unknown) {
            this.ledger.put(this.entries.of(name), value);
          },
        });
    }
    return new form(ledger, begin) as unknown as fields;
  };
}
