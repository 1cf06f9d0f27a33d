// Every job of every sample, in each variant, worked through on the bench page by touch, without a network: all steps done, nothing asked for, no
// fault in the page, and the record that comes out is one that the command finds nothing wrong with.
import { cpSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, inject, test } from 'vitest';
import { fettle, folder, openTablet, samples } from './tablet.ts';
import { saved, sayGrades, workUntil } from './working.ts';

const browser = inject('browser');

interface Work {
  readonly file: string;
  readonly variant: string | undefined;
  readonly job: string | undefined;
}

/** The jobs of a sample in each variant, as the file itself says them. */
function jobsOf(file: string): readonly Work[] {
  const text = readFileSync(join(samples, file), 'utf8');
  const jobs = [...text.matchAll(/^job ([\w-]+)[\s\S]*?^\}/gm)].map(([whole, name]) => ({
    name,
    only: /^ {2}variant (.+)$/m.exec(whole)?.[1]?.split(/,\s*/),
  }));
  // What is built on another has the work of its base.
  const hasWork = jobs.length > 0 || /^sequence |^ {2}extends /m.test(text);
  const variants = [...text.matchAll(/^ {2}variants (.+)$/gm)].flatMap(([, names = '']) => names.split(/,\s*/));
  const asked = jobs.length > 0 ? jobs : hasWork ? [{ name: undefined, only: undefined }] : [];
  return asked.flatMap(({ name, only }) =>
    (variants.length === 0 ? [undefined] : (only ?? variants)).map((variant) => ({ file, variant, job: name })),
  );
}

const all = readdirSync(samples)
  .filter((name) => name.endsWith('.fettle'))
  .flatMap(jobsOf);

test('there are as many as the samples have', () => {
  expect(new Set(all.map((each) => each.file)).size).toBeGreaterThan(9);
});

describe.each(all)('$file, $job, $variant', ({ file, variant, job }) => {
  test('from its first step to the record', async () => {
    const place = folder();
    cpSync(samples, place, { recursive: true });
    const page = join(place, 'page.html');
    const asked = [
      ...(job === undefined ? [] : ['--job', job]),
      ...(variant === undefined ? [] : ['--variant', variant]),
    ];
    expect(fettle('bench', join(place, file), ...asked, '--output', page)).toMatchObject({ status: 0 });
    expect(readFileSync(page).length).toBeLessThan(640_000);
    const tablet = await openTablet(browser, page, join(place, 'profile'), { width: 820, height: 1180 });
    await tablet.page.getByLabel('Engine number').fill('QL-7');
    await tablet.page.getByRole('button', { name: 'Begin the work' }).tap();
    await workUntil(tablet.page, () => false);
    await tablet.page.getByRole('heading', { name: 'The record', exact: true }).waitFor();
    await sayGrades(tablet.page);
    expect(tablet.faults).toEqual([]);
    expect(tablet.asked).toEqual([]);
    const record = await saved(tablet.page);
    await tablet.close();
    const written = join(place, record.name);
    writeFileSync(written, record.text);
    const { out } = fettle('check', written, '--format', 'json');
    const wrong = JSON.parse(out).files[0].findings;
    expect(wrong.filter((each: { readonly severity: string }) => each.severity !== 'information')).toEqual([]);
    const told = JSON.parse(fettle('record', written, '--format', 'json').out).records[0];
    expect(told.engineNumber).toBe('QL-7');
  });
});
