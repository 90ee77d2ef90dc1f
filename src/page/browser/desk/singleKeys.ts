const KEY = 'proofwalk-single-keys'

/** Whether single letters are commands: who speaks to the machine can turn them off. */
export function singleKeys(): boolean {
  return localStorage.getItem(KEY) !== 'off'
}

/** Turns single letters as commands on or off, and keeps it. */
export function setSingleKeys(on: boolean): void {
  localStorage.setItem(KEY, on ? 'on' : 'off')
}
