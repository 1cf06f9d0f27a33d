// The part of @lhncbc/ucum-lhc that the tests ask for a second opinion; the package brings no types.

declare module '@lhncbc/ucum-lhc' {
  export const UcumLhcUtils: {
    getInstance(): {
      convertUnitTo(
        from: string,
        value: number,
        to: string,
      ): { readonly status: string; readonly toVal: number | null };
    };
  };
}
