// Put a few files into a zip (PKWARE APPNOTE 6.3): stored as they are, for photos are packed already.
// Pure: it touches no page.

/** @typedef {{name: string, bytes: Uint8Array}} ZipFile name: ASCII, in no folder */

const LOCAL = 0x04034b50;
const CENTRAL = 0x02014b50;
const END = 0x06054b50;
const VERSION = 20;
/** Midnight of 1 January 1980, the first that a zip can say: a case has its own date. */
const DATE = 0x0021;

const CRC_TABLE = Array.from({ length: 256 }, (_, byte) => {
  let crc = byte;
  for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  return crc >>> 0;
});

/** @param {Uint8Array} bytes @returns {number} CRC-32 (ISO 3309) */
export function crc32(bytes) {
  let crc = 0xffffffff;
  for (let i = 0; i < bytes.length; i++) crc = CRC_TABLE[(crc ^ bytes[i]) & 0xff] ^ (crc >>> 8);
  return (crc ^ 0xffffffff) >>> 0;
}

/** @param {Array<[number, number]>} fields each (value, bytes), the lowest byte first
 * @returns {Uint8Array} */
function packed(fields) {
  const made = new Uint8Array(fields.reduce((size, [, width]) => size + width, 0));
  const view = new DataView(made.buffer);
  let at = 0;
  fields.forEach(([value, width]) => {
    if (width === 2) view.setUint16(at, value, true);
    else view.setUint32(at, value, true);
    at += width;
  });
  return made;
}

/** @param {ZipFile[]} files @returns {Uint8Array} the zip */
export function zipOf(files) {
  /** @type {Uint8Array[]} */
  const bodies = [];
  /** @type {Uint8Array[]} */
  const list = [];
  let offset = 0;
  files.forEach(({ name, bytes }) => {
    const written = Uint8Array.from(name, (sign) => sign.charCodeAt(0));
    const { length: size } = bytes;
    /** @type {Array<[number, number]>} */
    const about = [[0, 2], [0, 2], [0, 2], [DATE, 2], [crc32(bytes), 4], [size, 4], [size, 4],
      [written.length, 2], [0, 2]];
    const local = packed([[LOCAL, 4], [VERSION, 2], ...about]);
    bodies.push(local, written, bytes);
    list.push(packed([[CENTRAL, 4], [VERSION, 2], [VERSION, 2], ...about, [0, 2], [0, 2], [0, 2],
      [0, 4], [offset, 4]]), written);
    offset += local.length + written.length + size;
  });
  const listed = list.reduce((size, piece) => size + piece.length, 0);
  const count = files.length;
  return joined([...bodies, ...list,
    packed([[END, 4], [0, 2], [0, 2], [count, 2], [count, 2], [listed, 4], [offset, 4], [0, 2]])]);
}

/** @param {Uint8Array[]} pieces @returns {Uint8Array} */
function joined(pieces) {
  const whole = new Uint8Array(pieces.reduce((size, piece) => size + piece.length, 0));
  let at = 0;
  pieces.forEach((piece) => {
    whole.set(piece, at);
    at += piece.length;
  });
  return whole;
}
