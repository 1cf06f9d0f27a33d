// Specs of the library are imported as text; the bundler and the test runner both hand back what the file holds.
declare module '*.fettle' {
  const text: string;
  export default text;
}
