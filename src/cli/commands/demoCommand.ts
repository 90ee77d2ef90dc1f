import type { Command } from 'commander'
import { wholeNumber } from '../terminal/optionValues.js'
import type { Terminal } from '../terminal/terminal.js'

/** `demo [DIR]`: the demonstration walk, from simulated stills to its sheet. */
export function addDemoCommand(program: Command, terminal: Terminal): void {
  program
    .command('demo')
    .summary('make the demonstration walk and run everything on it')
    .description(
      'Makes a walk at an invented place with simulated stills, measures it, and writes its acceptance sheet. All of it says that it is simulated.',
    )
    .argument('[dir]', 'the folder to make it in: proofwalk-demo, or proofwalk-reading-demo')
    .option('--reading', 'the demonstration of the reading trial instead, read by simulated readers')
    .option('--workers <n>', 'threads to work on (one a core by default)', wholeNumber(1, 64))
    .addHelpText('after', '\nExample:\n  proofwalk demo')
    .action(async (dir: string | undefined, options: DemoOptions) => {
      const workers = options.workers ?? null
      if (options.reading === true) {
        const { runReadingDemo } = await import('../folders/runReadingDemo.js')
        return runReadingDemo(dir ?? 'proofwalk-reading-demo', workers, terminal)
      }
      const { runDemo } = await import('../folders/runDemo.js')
      await runDemo(dir ?? 'proofwalk-demo', workers, terminal)
    })
}

interface DemoOptions {
  readonly workers?: number
  readonly reading?: true
}
