// A table of grades whose name goes on and comes off as a part would: a shim, a gasket of which one is taken.
import { partOf } from '../model/part-data.ts';
import { thoseThat } from '../model/those-that.ts';
import type { Grades, Part, View } from '../model/view.ts';
import { question } from '../model/view-questions.ts';

/** What goes in of a table of grades, as a part. */
export const gradedPart = question((_view, grades: Grades): Part => {
  const { name, title, placed, declaration, statements, broken } = grades;
  return { placed, ...partOf({ name, title, declaration, statements, broken }, statements) };
});

/** The tables of grades that no part has the name of. */
export const gradesAlone = (view: View): readonly Grades[] =>
  view.grades.filter((grades) => view.things.get(grades.name) === grades);

/** The names of the parts of which something holds, in the order written, with the tables that go on as parts. */
export function partsThat(holds: (part: Part) => boolean): (view: View) => readonly string[] {
  const parts = thoseThat((view) => view.parts, holds);
  const tables = thoseThat(gradesAlone, (grades, view) => holds(gradedPart(view, grades)));
  return (view) => [...parts(view), ...tables(view)].map(({ name }) => name);
}
