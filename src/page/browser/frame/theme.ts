/** Light, dark, or as the machine is set. */
export type Theme = 'auto' | 'light' | 'dark'

const KEY = 'proofwalk-theme'
const ORDER: readonly Theme[] = ['auto', 'light', 'dark']

/** The theme chosen last on this machine. */
export function chosenTheme(): Theme {
  const kept = localStorage.getItem(KEY)
  return ORDER.find((theme) => theme === kept) ?? 'auto'
}

/** Shows the page in the theme chosen last. */
export function startTheme(): void {
  document.documentElement.dataset.theme = chosenTheme()
}

/** Goes on to the next theme and keeps it. */
export function nextTheme(): Theme {
  const next = ORDER[(ORDER.indexOf(chosenTheme()) + 1) % ORDER.length]!
  localStorage.setItem(KEY, next)
  startTheme()
  return next
}
