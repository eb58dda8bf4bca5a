const HEADER_BYTES = 44;
const SAMPLE_BYTES = 2;
const FULL_SCALE = 32_767;

/** Samples from -1 to 1 as a WAV file: PCM, 16 bit, mono. */
export function wavOf(samples, rateHz) {
  const dataBytes = samples.length * SAMPLE_BYTES;
  const wav = Buffer.alloc(HEADER_BYTES + dataBytes);
  wav.write('RIFF', 0, 'latin1');
  wav.writeUInt32LE(HEADER_BYTES - 8 + dataBytes, 4);
  wav.write('WAVEfmt ', 8, 'latin1');
  wav.writeUInt32LE(16, 16);
  wav.writeUInt16LE(1, 20); // PCM
  wav.writeUInt16LE(1, 22); // one channel
  wav.writeUInt32LE(rateHz, 24);
  wav.writeUInt32LE(rateHz * SAMPLE_BYTES, 28);
  wav.writeUInt16LE(SAMPLE_BYTES, 32);
  wav.writeUInt16LE(SAMPLE_BYTES * 8, 34);
  wav.write('data', 36, 'latin1');
  wav.writeUInt32LE(dataBytes, 40);
  samples.forEach((sample, index) => {
    wav.writeInt16LE(Math.round(sample * FULL_SCALE), HEADER_BYTES + index * SAMPLE_BYTES);
  });
  return wav;
}
