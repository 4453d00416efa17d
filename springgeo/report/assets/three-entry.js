export {
  AmbientLight, BackSide, BufferAttribute, BufferGeometry, Color, CylinderGeometry,
  DecrementWrapStencilOp, DirectionalLight, DoubleSide, ExtrudeGeometry, FrontSide, Group,
  IncrementWrapStencilOp, LineBasicMaterial, LineSegments, Matrix4, Mesh,
  MeshBasicMaterial, MeshStandardMaterial, NotEqualStencilFunc, OrthographicCamera, Path,
  Plane, PlaneGeometry, Raycaster, ReplaceStencilOp, AlwaysStencilFunc, Scene, Shape,
 Vector2, Vector3, WebGLRenderer,
} from "three";
export { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";
export { toCreasedNormals } from "three/examples/jsm/utils/BufferGeometryUtils.js";
