/**
 * Drops the superuser's right to read everything from this process, where it has it, until the function it returns is called: what a
 * user may not read cannot be tested with it. Folders on the way must let others pass.
 */
export function dropRootRights(): () => void {
  if (process.getuid?.() !== 0) return () => undefined
  const NOBODY = 65534
  process.setegid!(NOBODY)
  process.seteuid!(NOBODY)
  return () => {
    process.seteuid!(0)
    process.setegid!(0)
  }
}
