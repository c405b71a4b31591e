// Reads a label with the camera, where a page may have one: over trusted HTTPS and at the desk. The
// browser's own reader is taken where it has one; else pictures go to the book, which reads them.
const part = document.getElementById("camera");
const video = document.getElementById("camera-picture");
const said = document.getElementById("camera-said");
const form = document.getElementById("label-form");
const EVERY_MS = 400;
const LONGEST_PX = 1000;
const LABEL = /^https?:\/\/[^/?#]+\/b\/([^/?#]+)$/i;

const own = async () => "BarcodeDetector" in window
  && (await BarcodeDetector.getSupportedFormats()).includes("qr_code")
  ? new BarcodeDetector({ formats: ["qr_code"] }) : null;

/** The card's address, read by the browser; null where nothing is seen yet. */
async function readHere(reader) {
  for (const { rawValue } of await reader.detect(video)) {
    const found = LABEL.exec(rawValue);
    if (found) return `/b/${found[1]}`;
  }
  return null;
}

/** The same, read by the book. */
async function readThere() {
  const scale = Math.min(1, LONGEST_PX / Math.max(video.videoWidth, video.videoHeight));
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [video.videoWidth * scale, video.videoHeight * scale];
  canvas.getContext("2d").drawImage(video, 0, 0, canvas.width, canvas.height);
  const picture = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.8));
  const data = new FormData();
  data.append("_csrf_token", form.elements._csrf_token.value);
  data.append("label", picture, "label.jpg");
  const answer = await fetch(form.action, { method: "POST", body: data });
  return answer.ok && answer.redirected ? answer.url : null;
}

async function look(stream) {
  const reader = await own();
  while (stream.active && !video.hidden) {
    const card = await (reader ? readHere(reader) : readThere()).catch(() => null);
    if (card) {
      stream.getTracks().forEach((track) => track.stop());
      location.assign(card);
      return;
    }
    await new Promise((done) => setTimeout(done, EVERY_MS));
  }
}

async function open() {
  try {
    const stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" }, audio: false });
    video.srcObject = stream;
    video.hidden = false;
    await video.play();
    said.textContent = part.dataset.looking;
    addEventListener("pagehide", () => stream.getTracks().forEach((track) => track.stop()));
    await look(stream);
  } catch {
    video.hidden = true;
    said.textContent = part.dataset.none;
  }
}

if (navigator.mediaDevices && navigator.mediaDevices.getUserMedia) {
  part.hidden = false;
  document.getElementById("camera-on").addEventListener("click", open);
}
