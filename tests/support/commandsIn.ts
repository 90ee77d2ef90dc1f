/** The words of every `proofwalk ...` that a text in Markdown shows in its code, without "proofwalk" and without remarks; quoted words whole. */
export function commandsIn(markdown: string): readonly (readonly string[])[] {
  const blocks = [...markdown.matchAll(/^ *```sh\n(.*?)^ *```/gms)].flatMap(([, block]) => block!.split('\n'))
  const spans = [...markdown.replace(/^ *```.*?^ *```/gms, '').matchAll(/`(proofwalk [^`]+)`/g)].map(
    ([, span]) => span!,
  )
  return [...blocks, ...spans].flatMap((line) => {
    const command = /^\s*proofwalk (.+)$/.exec(line.replace(/ # .*$/, ''))?.[1]
    return command === undefined
      ? []
      : [[...command.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, bare]) => quoted ?? bare!)]
  })
}
