/** The exit statuses a failure can end with: 2, the user can mend it; 3, a fault of ours. */
export type FailureStatus = 2 | 3

/** Where a fault lies and how it is mended; every part shows up in the one line the user reads. */
export interface FaultPlace {
  /** The file at fault, as the user named it. */
  readonly file?: string
  /** The field, key, option or position within the file. */
  readonly field?: string
  /** What to do about it, as an imperative: "write 16 m or 52 ft". */
  readonly mend?: string
}

/**
 * A fault that is told to the user: a stable code, one sentence without a full stop, and where possible the
 * file, field and mend. Codes and statuses are a contract, texts are not.
 */
export class ProofwalkError extends Error {
  readonly code: string
  readonly exitStatus: FailureStatus
  readonly place: FaultPlace

  constructor(code: string, message: string, place: FaultPlace = {}, exitStatus: FailureStatus = 2) {
    super(message)
    this.name = 'ProofwalkError'
    this.code = code
    this.exitStatus = exitStatus
    this.place = place
  }
}

/** Several faults of one input, all told at once. Its exit status is that of the gravest. */
export class ProofwalkErrors extends ProofwalkError {
  readonly faults: readonly ProofwalkError[]

  constructor(faults: readonly ProofwalkError[]) {
    super('faults', faults.map(faultLine).join('\n'))
    this.name = 'ProofwalkErrors'
    this.faults = faults
  }
}

/** One line for one fault: "file: field: message; mend". */
export function faultLine(fault: ProofwalkError): string {
  const where = [fault.place.file, fault.place.field].filter((part) => part !== undefined)
  const head = where.length > 0 ? `${where.join(': ')}: ` : ''
  const tail = fault.place.mend === undefined ? '' : `; ${fault.place.mend}`
  return `${head}${fault.message}${tail}`
}
