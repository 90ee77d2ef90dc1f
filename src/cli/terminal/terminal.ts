/** What a command may do to the outside: handed in, so that tests run commands without a process. */
export interface Terminal {
  /** Writes to standard output as given. */
  out(text: string): void
  /** Writes to standard error as given. */
  err(text: string): void
  /** Whether questions may be asked: standard input and output are both a terminal. */
  readonly interactive: boolean
  /** Whether progress may be drawn: standard error is a terminal. */
  readonly showsProgress: boolean
  /** Whether colour and weight may be used: a terminal, and NO_COLOR is not set. */
  readonly styled: boolean
  /** Width of the terminal in characters; 100 where there is none. */
  readonly columns: number
  /** Sets the exit status of the process; the last one set counts. */
  setStatus(status: 0 | 1 | 2 | 3): void
}
