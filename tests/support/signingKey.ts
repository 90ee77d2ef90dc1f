import { generateKeyPairSync } from 'node:crypto'
import forge from 'node-forge'

/** A key with a certificate of its own making for an invented name, as a PKCS#12 file. */
export function signingKeyFile(name: string, passphrase: string): Buffer {
  const { privateKey } = generateKeyPairSync('rsa', { modulusLength: 2048 })
  const key = forge.pki.privateKeyFromPem(privateKey.export({ type: 'pkcs1', format: 'pem' }).toString())
  const certificate = forge.pki.createCertificate()
  certificate.publicKey = forge.pki.rsa.setPublicKey(key.n, key.e)
  certificate.serialNumber = '01ab'
  certificate.validity.notBefore = new Date('2026-01-01T00:00:00Z')
  certificate.validity.notAfter = new Date('2046-01-01T00:00:00Z')
  const who = [
    { name: 'commonName', value: name },
    { name: 'organizationName', value: 'Invented Survey' },
  ]
  certificate.setSubject(who)
  certificate.setIssuer(who)
  certificate.sign(key, forge.md.sha256.create())
  const file = forge.pkcs12.toPkcs12Asn1(key, [certificate], passphrase, { algorithm: 'aes256' })
  return Buffer.from(forge.asn1.toDer(file).getBytes(), 'latin1')
}
