import type { ESLint } from 'eslint'

interface Room {
  readonly name: string
  readonly rooms: readonly (Room | string)[]
  readonly words?: readonly string[]
  readonly entrances?: readonly string[]
}

export function rulesOf(
  source: string,
  plan: Omit<Room, 'name'>,
): { readonly rules: NonNullable<ESLint.Plugin['rules']> }
