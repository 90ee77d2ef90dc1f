import { randomBytes } from 'node:crypto'
import { trialOrder } from '../../../trial/trialOrder.js'
import type { TrialSource } from '../../../walk/trial/trialSource.js'
import type { TrialAnswer, TrialView } from '../../trialApi.js'
import { failure, success, type Outcome } from '../../../math/outcome.js'
import { pageSays } from '../../sentences.js'
import type { PracticeCrop } from './practiceCrops.js'

/** What is on show under a name of its own, and to whom. */
interface OnShow {
  readonly reader: string
  readonly crop: string
  readonly again: boolean
  readonly practice: boolean
  readonly letters: number
  readonly png: Uint8Array
  /** What a practice crop says. */
  readonly said: string | null
}

/** Hands readers one crop after the other and takes down what they read. */
export class ReadingDesk {
  readonly #source: TrialSource
  readonly #practice: readonly PracticeCrop[]
  readonly #onShow = new Map<string, OnShow>()
  /** Of each reader, how many practice crops were answered. */
  readonly #practised = new Map<string, number>()
  /** One answer is kept after the other. */
  #turn: Promise<unknown> = Promise.resolve()

  constructor(source: TrialSource, practice: readonly PracticeCrop[]) {
    this.#source = source
    this.#practice = practice
  }

  /** What a reader is shown next: practice first, where they have answered nothing yet. */
  next(reader: string): TrialView {
    const { crops, seed } = this.#source
    const order = trialOrder([...crops.keys()], seed, reader)
    const answered = this.#source.answers().filter((one) => one.reader === reader)
    const isOver = (crop: string, again: boolean): boolean =>
      answered.some((one) => one.crop === crop && one.again === again)
    const left = order.filter(({ crop, again }) => !isOver(crop, again))
    const progress = { done: order.length - left.length, all: order.length }
    const practised = this.#practised.get(reader) ?? 0
    const practice = answered.length === 0 ? this.#practice[practised] : undefined
    if (practice !== undefined) {
      const { id, shown, png } = practice
      const showing = this.#show({
        reader,
        crop: id,
        again: false,
        practice: true,
        letters: shown.length,
        png,
        said: shown,
      })
      return { showing, letters: shown.length, practice: true, ...progress }
    }
    const [first] = left
    if (first === undefined) return { showing: null, letters: 0, practice: false, ...progress }
    const { letters, png } = crops.get(first.crop)!
    const showing = this.#show({ reader, ...first, practice: false, letters, png, said: null })
    return { showing, letters, practice: false, ...progress }
  }

  /** The picture of a showing, or null where it is over. */
  picture(showing: string): Uint8Array | null {
    return this.#onShow.get(showing)?.png ?? null
  }

  /** Takes down an answer; a showing is answered once. */
  async answer({ showing, ...given }: TrialAnswer): Promise<Outcome<{ said: string | null }>> {
    const kept = this.#turn.then(async (): Promise<Outcome<{ said: string | null }>> => {
      const shown = this.#onShow.get(showing)
      if (shown === undefined || this.#isOver(shown)) return failure(pageSays['showing-over']())
      const answered = given.answered?.toUpperCase().replace(/\s/g, '') ?? null
      if (answered !== null && answered.length !== shown.letters)
        return failure(pageSays['answer-length'](shown.letters))
      const { reader, crop, again, practice, said } = shown
      await this.#source.keep({ ...given, reader, crop, again, practice, answered }, said)
      this.#onShow.delete(showing)
      if (practice) this.#practised.set(reader, (this.#practised.get(reader) ?? 0) + 1)
      return success({ said })
    })
    this.#turn = kept.catch(() => undefined)
    return kept
  }

  /** Resolves once all that was answered is kept. */
  async settled(): Promise<void> {
    await this.#turn
  }

  #isOver({ reader, crop, again, practice }: OnShow): boolean {
    if (practice) return this.#practice[this.#practised.get(reader) ?? 0]?.id !== crop
    return this.#source
      .answers()
      .some((one) => one.reader === reader && one.crop === crop && one.again === again)
  }

  /** Names a showing by chance; what the same reader was shown before, in another window, stays answerable until it is. */
  #show(shown: OnShow): string {
    const showing = randomBytes(12).toString('hex')
    this.#onShow.set(showing, shown)
    if (this.#onShow.size > MOST_ON_SHOW) this.#onShow.delete(this.#onShow.keys().next().value!)
    return showing
  }
}

/** More windows than anybody opens. */
const MOST_ON_SHOW = 200
