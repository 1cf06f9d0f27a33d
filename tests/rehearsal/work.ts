// A small timing side to carry out work on, and its findings in short form. The tests say what must come out.
import { analyseText } from '../annotated.ts';

/** The words of the line in which each error or warning stands, with its code. */
export function found(text: string, files: Readonly<Record<string, string>> = {}): readonly string[] {
  return analyseText(text, files)
    .findings.filter((finding) => finding.severity !== 'information')
    .map((finding) => {
      const start = text.lastIndexOf('\n', finding.start - 1) + 1;
      const end = text.indexOf('\n', finding.start);
      return `${finding.code}: ${text.slice(start, end < 0 ? undefined : end).trim()}`;
    });
}

/** A four-cylinder engine in line. */
export const FOUR = `engine {
  cylinders 4 inline
  cycle four-stroke
  rotation clockwise
  crankpin 1, 4 at 0 deg
  crankpin 2, 3 at 180 deg
  firing-order 1-3-4-2
}
`;

export interface Chain {
  readonly crank: number;
  readonly cam: number;
  readonly links: number;
}

/** A chain from the crankshaft to the camshaft, put on and aligned, and then the work that is given. */
export function timingSide({ crank, cam, links }: Chain, work: string): string {
  return `${FOUR}part block
part crankshaft { mark keyway at 45 deg }
part camshaft { mark dowel at 3 o'clock }
part crank-sprocket { teeth ${crank} fixed-to crankshaft mark dot at 6 o'clock }
part cam-sprocket { teeth ${cam} fixed-to camshaft mark dot at 12 o'clock }
part timing-chain { links ${links} }
drive cam-drive {
  chain timing-chain over crank-sprocket, cam-sprocket
  marks-agree at tdc 1 on compression
  marked-link 1 at crank-sprocket.dot
}
sequence timing-side {
  phase assemble
  starts-with block, crankshaft, camshaft
  step put-it-on {
    set crankshaft at tdc 1 on compression
    fit crank-sprocket, cam-sprocket, timing-chain together
    align cam-drive
  }
  step work {
${work}
  }
}
`;
}
