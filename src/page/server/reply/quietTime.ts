/** Tells work that nobody waits for when nobody waits for anything else. */
export interface QuietTime {
  /** Somebody asked for something just now. */
  asked(): void
  /** Resolves once nobody has asked for a while, and at the latest after so long. */
  come(mostMs: number): Promise<void>
}

/** Nobody waits once nothing was asked for so long: this project's convention. */
const QUIET_MS = 300

/** A quiet time that begins with somebody about to ask: the page that was just opened. */
export function quietTime(now: () => number = Date.now): QuietTime {
  let last = now()
  return {
    asked: () => void (last = now()),
    async come(mostMs) {
      const since = now()
      for (;;) {
        const left = Math.min(last + QUIET_MS, since + mostMs) - now()
        if (left <= 0) return
        await new Promise((resolve) => setTimeout(resolve, left).unref())
      }
    },
  }
}
