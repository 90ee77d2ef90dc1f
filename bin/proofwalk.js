#!/usr/bin/env node
import module from 'node:module'

// Node 22 and later keep what they compiled; Node 20 runs without.
module.enableCompileCache?.()
const { main } = await import('../dist/main.js')
await main(process.argv.slice(2))
