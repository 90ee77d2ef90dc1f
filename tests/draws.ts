/** Whether these trials make all their draws, as those did whose figures were kept in bench/results/coverage.md; the gate makes half. */
const ALL = process.env.DRAWS === 'all'

/** How many of a trial's draws are made: half of them, all under DRAWS=all. */
export function draws(all: number): number {
  return ALL ? all : Math.ceil(all / 2)
}
