import { ROUTES } from '../../api.js'
import type { BeginRefusal, BeginRequest } from '../../beginApi.js'
import { postTo } from './callServer.js'
import type { PageStore } from './pageStore.js'
import { noteLink, readResults, readWalk } from './takeNews.js'

/** What is wrong with the answers, by field; `rest`: with none of them. */
export type BeginFaults = Readonly<Record<string, string>>

const FIELDS = ['folder', 'site', 'camera', 'client', 'carry', 'marks', 'lights', 'promise']

/** Has the walk begun and shows it; else what is wrong with the answers. */
export async function beginWalk(store: PageStore, answers: BeginRequest): Promise<BeginFaults> {
  const reply = await postTo<unknown>(ROUTES.begin, answers)
  if (reply.kind === 'ok') {
    await readWalk(store)
    await readResults(store)
    return {}
  }
  if (reply.kind !== 'refused') {
    noteLink(store, reply)
    return {}
  }
  const { message, faults = [] } = reply.refusal as Partial<BeginRefusal>
  const known = faults.filter(({ field }) => FIELDS.includes(field))
  if (known.length === 0) return { rest: message ?? '' }
  return Object.fromEntries(
    FIELDS.flatMap((field) => {
      const told = known.filter((one) => one.field === field)
      return told.length === 0 ? [] : [[field, told.map((one) => one.message).join('; ')]]
    }),
  )
}
