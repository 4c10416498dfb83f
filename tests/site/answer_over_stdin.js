// Answer vectors without a browser: curves and questions come in as JSON, answers go out.
import { answerVectors, takeGrids } from "./answer_vectors.js";

let text = "";
process.stdin.setEncoding("utf8");
process.stdin.on("data", (piece) => { text += piece; });
process.stdin.on("end", () => {
  const { grids, vectors } = JSON.parse(text);
  takeGrids(JSON.stringify(grids));
  process.stdout.write(answerVectors(JSON.stringify(vectors)));
});
