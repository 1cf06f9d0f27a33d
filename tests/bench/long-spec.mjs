// A long invented spec of typical declarations, for measuring. The figures mean nothing; they only agree with each other.

/** A short spec that is built on a long one (`use "long.fettle"`): two changes in it, and a part of its own. */
export function builtOnLong() {
  return [
    'use "long.fettle"',
    '',
    'spec built "Built on the long example" extends long-example {',
    '  change part housing-9 {',
    '    dimension bore 58.301..58.312 mm',
    '  }',
    '  change fastener bolt-3 {',
    '    torque 10 N.m, 24 N.m',
    '  }',
    '  change step fit-3 {',
    '    lubricate shaft-3 with oil',
    '    fit shaft-3 into block',
    '    fit housing-3 onto block',
    '    tighten bolt-3',
    '  }',
    '}',
    '',
  ].join('\n');
}

/** A spec of about so many lines: parts, fasteners, limits and steps in the usual mixture, without a fault. */
export function longSpec(lines) {
  const groups = Math.max(1, Math.round((lines - 30) / 33));
  const out = [
    'spec long-example "Long example" {',
    '  revision 1',
    '  source manual "Invented manual"',
    '  per manual',
    '}',
    '',
    'part block {',
    '  feature face',
    '}',
    '',
    'supply oil "Engine oil" {',
    '  kind oil',
    '}',
    '',
  ];
  for (let i = 1; i <= groups; i += 1) {
    out.push(
      `part housing-${i} "Housing ${i}" {`,
      '  dimension bore 58.300..58.312 mm',
      "  mark dot at 6 o'clock",
      '  orient arrow toward front',
      '}',
      '',
      `part shaft-${i} {`,
      '  dimension journal 54.270..54.290 mm',
      '    wear-limit 54.240 mm',
      '}',
      '',
      `fastener bolt-${i} x4 {`,
      '  thread M8x1.25',
      '  class 8.8',
      '  fitted oiled',
      '  joint structural',
      `  clamps housing-${i} to block`,
      '  torque 10 N.m, 24 N.m (18 lbf.ft)',
      '}',
      '',
      `limit clearance-${i} of shaft-${i}`,
      '  kind other',
      `  = housing-${i}.bore - shaft-${i}.journal`,
      '  within 4.00..4.05 mm',
      '',
    );
  }
  out.push('sequence build {', '  phase assemble', '  starts-with block');
  for (let i = 1; i <= groups; i += 1) {
    out.push(
      `  step fit-${i} {`,
      `    lubricate shaft-${i} with oil`,
      `    fit shaft-${i} into block`,
      `    fit housing-${i} onto block`,
      `    tighten bolt-${i}`,
      '  }',
    );
  }
  out.push('}', '');
  return out.join('\n');
}
