// Prints the closing line of the gate from vitest's JSON report. A skipped test is a failure here: what it needs was installed.
import { readFileSync } from 'node:fs'

const report = JSON.parse(readFileSync(process.argv[2], 'utf8'))
const skipped = report.testResults
  .flatMap((file) => file.assertionResults)
  .filter((test) => test.status === 'pending' || test.status === 'skipped' || test.status === 'todo')
for (const test of skipped) console.log(`skipped, which is a failure here: ${test.fullName}`)
const failed =
  report.numFailedTests + report.numFailedTestSuites * (report.numFailedTests === 0 ? 1 : 0) + skipped.length
console.log(`${report.numPassedTests} passed, ${failed} failed`)
if (failed > 0 || report.numPassedTests === 0) process.exitCode = 1
