// What the compiler's own types tell of the sources. It reads all of them for it, which takes longer than the questions: both ask it here.
import './look-ups.ts';
import './objects-in-texts.ts';
