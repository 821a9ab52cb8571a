// danfojs-node asks for the native tensor binding, which downloads a binary at install. Its core
// and its plain-JavaScript backend answer to the same calls; the methods that danfojs-node calls
// on tensors (a.add(b)) are registered here.
const tensors = require("@tensorflow/tfjs-core");
require("@tensorflow/tfjs-backend-cpu");

// The backend prints a banner on its first use in Node, which would land in a notebook's output.
// Setting the backend keeps this instance in use; left to itself the package makes another.
tensors.findBackend("cpu").firstUse = false;
tensors.setBackend("cpu");

const prototype = tensors.getGlobalTensorClass
  ? tensors.getGlobalTensorClass().prototype
  : tensors.Tensor.prototype;
const methods = (
  "abs add all any argMax argMin cast clipByValue concat div equal exp expandDims floor gather " +
  "greater greaterEqual less lessEqual log logicalAnd logicalNot logicalOr matMul max maximum " +
  "mean min minimum mod mul neg norm notEqual oneHot pow prod reshape round slice softmax sqrt " +
  "square squeeze sub sum tanh tile transpose unstack"
).split(" ");
for (const name of methods) {
  if (typeof prototype[name] === "function" || typeof tensors[name] !== "function") continue;
  prototype[name] = function (...rest) {
    return tensors[name](this, ...rest);
  };
}

module.exports = tensors;
