import { isCancel, log, select, text } from '@clack/prompts'
import { fault } from '../../sentences.js'
import { cliSays } from '../sentences.js'
import type { Questions } from './questions.js'

/** Asks on this process's terminal. */
export function clackQuestions(): Questions {
  return {
    async choose(question, choices, first) {
      const options = choices.map(({ value, label, hint }) => ({
        value: value as string,
        label,
        ...(hint === undefined ? {} : { hint }),
      }))
      const chosen = await select<string>({
        message: question,
        options,
        ...(first === undefined ? {} : { initialValue: first }),
      })
      if (isCancel(chosen)) throw fault(cliSays.stopped())
      return chosen as (typeof choices)[number]['value']
    },
    async line(question, { ifEmpty, fault: faultIn }) {
      const typed = await text({
        message: question,
        placeholder: ifEmpty === '' ? 'Enter skips' : ifEmpty,
        validate: (value) => {
          const meant = value === undefined || value.trim() === '' ? ifEmpty : value.trim()
          return meant === '' ? undefined : (faultIn?.(meant) ?? undefined)
        },
      })
      if (isCancel(typed)) throw fault(cliSays.stopped())
      const meant = (typed as string | undefined) ?? ''
      return meant.trim() === '' ? ifEmpty : meant.trim()
    },
    say: (said) => log.info(said),
  }
}
