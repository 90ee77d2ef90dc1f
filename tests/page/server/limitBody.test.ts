import { createServer } from 'node:http'
import { connect, type AddressInfo, type Socket } from 'node:net'
import { afterEach, describe, expect, it } from 'vitest'
import { limitBody, type BodyTime } from '../../../src/page/server/reply/limitBody.js'

const opened: { close(): void }[] = []
afterEach(() => opened.splice(0).forEach((one) => one.close()))

/** A server that reads a body of 100 bytes under a limit, after `idleMs`, and a connection that has sent the head. */
async function sender(time: BodyTime, idleMs = 0): Promise<{ socket: Socket; answer: Promise<string> }> {
  const server = createServer((request, response) => {
    limitBody(request, time)
    request.on('error', () => undefined)
    setTimeout(() => {
      request.resume().on('end', () => response.end('all came'))
    }, idleMs)
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const socket = connect((server.address() as AddressInfo).port, '127.0.0.1')
  opened.push({ close: () => void (socket.destroy(), server.close()) })
  const answer = new Promise<string>((resolve) => {
    let text = ''
    socket.on('data', (part) => (text += part.toString()))
    socket.on('error', () => undefined)
    socket.on('close', () => resolve(text))
  })
  socket.write('POST / HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\nContent-Length: 100\r\n\r\n')
  return { socket, answer }
}

const wait = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms))

async function drip(socket: Socket, parts: number, everyMs: number): Promise<void> {
  for (let part = 0; part < parts; part += 1) {
    await wait(everyMs)
    if (!socket.destroyed) socket.write('x'.repeat(100 / parts))
  }
}

describe('a body that comes slowly', () => {
  it('is read to its end, however long it takes, where only silence is limited', async () => {
    const { socket, answer } = await sender({ silentMs: 1500 })
    await drip(socket, 10, 400)
    expect(await answer).toContain('all came')
  }, 20_000)

  it('is ended where all of it is limited', async () => {
    const { socket, answer } = await sender({ wholeMs: 1500 })
    await drip(socket, 10, 400)
    expect(await answer).toBe('')
  }, 20_000)

  it('is ended where it falls silent', async () => {
    const { socket, answer } = await sender({ silentMs: 600 })
    await drip(socket, 100, 2)
    const other = await sender({ silentMs: 600 })
    other.socket.write('x'.repeat(40))
    expect(await other.answer).toBe('')
    expect(await answer).toContain('all came')
  }, 20_000)

  it('is not called silent while what came waits for a slow disk', async () => {
    const { socket, answer } = await sender({ silentMs: 600 }, 2500)
    socket.write('x'.repeat(90))
    setTimeout(() => socket.write('x'.repeat(10)), 2600)
    expect(await answer).toContain('all came')
  }, 20_000)
})
