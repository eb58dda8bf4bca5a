declare module '@lhncbc/ucum-lhc' {
  export class UcumLhcUtils {
    static getInstance(): UcumLhcUtils;
    validateUnitString(unit: string, suggest: boolean): { status: string; ucumCode: string | null };
  }
}
