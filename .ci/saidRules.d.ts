import type { ESLint } from 'eslint'

export const saidRules: { readonly rules: NonNullable<ESLint.Plugin['rules']> }
