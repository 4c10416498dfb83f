// Make a photo small: drawn anew on a canvas, upright, which leaves behind where it was taken and
// everything else that it says of itself.

import { el } from "./element.js";

/** The longer edge in pixels: a page on a phone shows no more. */
const EDGE_PX = 1280;
const QUALITY = 0.8;

/** @param {Blob} file @returns {Promise<ImageBitmap|HTMLImageElement>} turned as its camera was held */
async function opened(file) {
  if (!("createImageBitmap" in window)) return throughElement(file);
  // Younger than the checker's list of what may stand there; a browser that is older refuses it.
  const upright = /** @type {*} */ ({ imageOrientation: "from-image" });
  return createImageBitmap(file, upright).catch(() => throughElement(file));
}

/** @param {Blob} file @returns {Promise<HTMLImageElement>} by a data address: the page allows no other */
function throughElement(file) {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    const image = el("img");
    image.onload = () => resolve(image);
    image.onerror = () => reject(new Error("no picture"));
    reader.onload = () => { image.src = String(reader.result); };
    reader.onerror = () => reject(reader.error);
    reader.readAsDataURL(file);
  });
}

/** @param {Blob} file from camera or gallery @returns {Promise<ArrayBuffer>} a JPEG
 * @throws {Error} where the browser can make no picture of it */
export async function shrunkPhoto(file) {
  const picture = await opened(file);
  const share = Math.min(1, EDGE_PX / Math.max(picture.width, picture.height));
  const canvas = el("canvas");
  canvas.width = Math.max(1, Math.round(picture.width * share));
  canvas.height = Math.max(1, Math.round(picture.height * share));
  const drawing = canvas.getContext("2d");
  if (!drawing) throw new Error("no canvas");
  drawing.fillStyle = "#fff";
  drawing.fillRect(0, 0, canvas.width, canvas.height);
  drawing.drawImage(picture, 0, 0, canvas.width, canvas.height);
  return new Promise((resolve, reject) => {
    canvas.toBlob((blob) => {
      if (blob) new Response(blob).arrayBuffer().then(resolve, reject);
      else reject(new Error("no picture"));
    }, "image/jpeg", QUALITY);
  });
}
