// The few things asked of WebGL 2: programs, meshes and textures.
function program(gl, vertex, fragment) {
  const made = gl.createProgram();
  for (const [kind, text] of [[gl.VERTEX_SHADER, vertex], [gl.FRAGMENT_SHADER, fragment]]) {
    const shader = gl.createShader(kind);
    gl.shaderSource(shader, text);
    gl.compileShader(shader);
    gl.attachShader(made, shader);
  }
  gl.linkProgram(made);
  if (!gl.getProgramParameter(made, gl.LINK_STATUS)) throw new Error(gl.getProgramInfoLog(made) || "no program");
  const setters = {}, count = gl.getProgramParameter(made, gl.ACTIVE_UNIFORMS);
  for (let i = 0; i < count; i++) {
    const { name, type } = gl.getActiveUniform(made, i);
    setters[name] = setter(gl, type, gl.getUniformLocation(made, name));
  }
  return { made, set: (values) => { for (const name in values) if (setters[name]) setters[name](values[name]); } };
}

function setter(gl, type, at) {
  const kinds = {
    [gl.FLOAT]: (v) => gl.uniform1f(at, v), [gl.INT]: (v) => gl.uniform1i(at, v), [gl.BOOL]: (v) => gl.uniform1i(at, v ? 1 : 0),
    [gl.FLOAT_VEC3]: (v) => gl.uniform3fv(at, v), [gl.FLOAT_VEC4]: (v) => gl.uniform4fv(at, v),
    [gl.FLOAT_MAT4]: (v) => gl.uniformMatrix4fv(at, false, v), [gl.SAMPLER_2D]: (v) => gl.uniform1i(at, v),
  };
  return kinds[type];
}

function buffer(gl, data, target = gl.ARRAY_BUFFER) {
  const made = gl.createBuffer();
  gl.bindBuffer(target, made);
  gl.bufferData(target, data, gl.DYNAMIC_DRAW);
  return made;
}

// Corners by name, each [data, numbers a corner], and the faces between them.
class Mesh {
  constructor(gl, used, corners, faces, kind = gl.TRIANGLES) {
    Object.assign(this, { gl, used, kind, count: faces.length, buffers: {} });
    this.set = gl.createVertexArray();
    gl.bindVertexArray(this.set);
    for (const [name, [data, size]] of Object.entries(corners)) {
      const at = gl.getAttribLocation(used.made, name);
      this.buffers[name] = buffer(gl, data);
      if (at < 0) continue;
      gl.enableVertexAttribArray(at);
      gl.vertexAttribPointer(at, size, data instanceof Uint8Array ? gl.UNSIGNED_BYTE : gl.FLOAT, false, 0, 0);
    }
    this.order = buffer(gl, faces instanceof Uint32Array ? faces : new Uint32Array(faces), gl.ELEMENT_ARRAY_BUFFER);
    gl.bindVertexArray(null);
  }

  // Put other corners in place of those it has.
  change(name, data) {
    this.gl.bindBuffer(this.gl.ARRAY_BUFFER, this.buffers[name]);
    this.gl.bufferData(this.gl.ARRAY_BUFFER, data, this.gl.DYNAMIC_DRAW);
  }

  // Give back what the card keeps of it.
  free() {
    for (const made of [...Object.values(this.buffers), this.order]) this.gl.deleteBuffer(made);
    this.gl.deleteVertexArray(this.set);
  }

  draw(values) {
    const { gl } = this;
    gl.useProgram(this.used.made);
    this.used.set(values);
    gl.bindVertexArray(this.set);
    gl.drawElements(this.kind, this.count, gl.UNSIGNED_INT, 0);
    gl.bindVertexArray(null);
  }
}

// A texture read texel by texel: four floats each, in rows as long as the card allows.
function floats(gl, unit, data) {
  const wide = 2048, high = Math.ceil(data.length / 4 / wide), whole = new Float32Array(4 * wide * high);
  whole.set(data);
  return texture(gl, unit, gl.RGBA32F, wide, high, gl.FLOAT, whole);
}

function texture(gl, unit, format, wide, high, type, data) {
  const made = gl.createTexture();
  gl.activeTexture(gl.TEXTURE0 + unit);
  gl.bindTexture(gl.TEXTURE_2D, made);
  for (const name of [gl.TEXTURE_MIN_FILTER, gl.TEXTURE_MAG_FILTER]) gl.texParameteri(gl.TEXTURE_2D, name, gl.NEAREST);
  for (const name of [gl.TEXTURE_WRAP_S, gl.TEXTURE_WRAP_T]) gl.texParameteri(gl.TEXTURE_2D, name, gl.CLAMP_TO_EDGE);
  gl.texImage2D(gl.TEXTURE_2D, 0, format, wide, high, 0, gl.RGBA, type, data);
  return made;
}
