import type { ComponentChildren } from 'preact'
import type { NewChoice } from '../../../walk/new/newQuestions.js'
import { asSentence } from '../../../sentences.js'

interface TextProps {
  readonly name: string
  readonly label: string
  readonly value: string
  readonly hint?: string
  readonly fault?: string | undefined
  readonly onTyped: (text: string) => void
}

/** A question that is answered with a line of text. */
export function AskedText({ name, label, value, hint, fault, onTyped }: TextProps) {
  return (
    <div class="asked-field">
      <label for={`begin-${name}`}>{label}</label>
      <input
        id={`begin-${name}`}
        value={value}
        autocomplete="off"
        aria-invalid={fault !== undefined}
        aria-describedby={`begin-${name}-more`}
        onInput={(event) => onTyped(event.currentTarget.value)}
      />
      <More name={name} hint={hint} fault={fault} />
    </div>
  )
}

interface ChoiceProps extends Omit<TextProps, 'onTyped' | 'hint'> {
  readonly choices: readonly NewChoice[]
  readonly onChosen: (value: string) => void
}

/** A question that is answered by choosing; the choice's own hint stands under it. */
export function AskedChoice({ name, label, value, fault, choices, onChosen }: ChoiceProps) {
  return (
    <div class="asked-field">
      <label for={`begin-${name}`}>{label}</label>
      <select
        id={`begin-${name}`}
        value={value}
        aria-invalid={fault !== undefined}
        aria-describedby={`begin-${name}-more`}
        onChange={(event) => onChosen(event.currentTarget.value)}
      >
        {choices.map((one) => (
          <option value={one.value} key={one.value}>
            {one.label}
          </option>
        ))}
      </select>
      <More name={name} hint={choices.find((one) => one.value === value)?.hint} fault={fault} />
    </div>
  )
}

interface MoreProps {
  readonly name: string
  readonly hint: string | undefined
  readonly fault: string | undefined
}

function More({ name, hint, fault }: MoreProps) {
  return (
    <p class={fault === undefined ? 'asked-more' : 'asked-more asked-fault'} id={`begin-${name}-more`}>
      {fault === undefined ? (hint ?? '') : asSentence(fault)}
    </p>
  )
}

interface GroupProps {
  readonly name: string
  readonly legend: string
  readonly fault?: string | undefined
  readonly children: ComponentChildren
}

/** Questions that belong together. */
export function AskedGroup({ name, legend, fault, children }: GroupProps) {
  return (
    <fieldset class="asked" id={`begin-${name}`} tabIndex={-1}>
      <legend>{legend}</legend>
      {fault === undefined ? null : <p class="asked-more asked-fault">{asSentence(fault)}</p>}
      {children}
    </fieldset>
  )
}
