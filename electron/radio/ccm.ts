import { createDecipheriv } from 'node:crypto';
import type { CcmDecrypt } from '../../core/radio/bthome.ts';

/** AES-128-CCM with a 4-byte tag by Node's own crypto; null where the tag does not fit. */
export const decryptCcm: CcmDecrypt = ({ key, nonce, ciphertext, tag }) => {
  if (key.byteLength !== 16 || nonce.byteLength !== 13 || tag.byteLength !== 4) return null;
  try {
    const decipher = createDecipheriv('aes-128-ccm', Uint8Array.from(key), Uint8Array.from(nonce), {
      authTagLength: 4,
    });
    decipher.setAuthTag(Uint8Array.from(tag));
    const plain = decipher.update(Uint8Array.from(ciphertext));
    decipher.final();
    return plain;
  } catch {
    return null;
  }
};
