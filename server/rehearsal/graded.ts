// A table of grades whose name goes on and comes off as a part would: a shim, a gasket of which one is taken.
import { partOf } from '../model/part-data.ts';
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
