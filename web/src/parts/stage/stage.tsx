import { Canvas, type ThreeEvent, useFrame, useThree } from "@react-three/fiber";
import { useEffect, useMemo, useRef, useState } from "react";
import * as THREE from "three";
import { LineMaterial } from "three/examples/jsm/lines/LineMaterial.js";
import { LineSegments2 } from "three/examples/jsm/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/examples/jsm/lines/LineSegmentsGeometry.js";
import { filmedMaterial, type FilmLook } from "./finishes";
import { toStage, type VehiclePoint } from "./frame";
import { useOrbit, type Viewpoint } from "./orbit";
import { shadowTexture, studioScene } from "./studio";
import { strainSurface } from "./strain_surface";
import { boundaryLines, readVehicle, type StagedVehicle } from "./vehicle";
import { markColours } from "@/canvas/marks";
import type { Rgb } from "@/canvas/ramp";
import classes from "./stage.module.css";

/** A panel's surface with a colour to each triangle, laid over the panel. */
export interface PaintedSurface {
  panel: string;
  points: readonly VehiclePoint[];
  triangles: readonly (readonly [number, number, number])[];
  colours: readonly Rgb[];
  /** Crests of folds, drawn as lines. */
  fingersOnPanel: readonly (readonly VehiclePoint[])[];
  anchors: readonly VehiclePoint[];
  /** Where hands pull, and whither: unit vectors of the vehicle's frame. */
  pulls: readonly { at: VehiclePoint; direction: VehiclePoint }[];
}

export interface StageProps {
  label: string;
  model: ArrayBuffer;
  finishOf: (panel: string) => string | undefined;
  /** The film on each covered panel, where films are to be seen. */
  films?: ReadonlyMap<string, FilmLook> | undefined;
  /** Hears of every panel that a pressed pointer comes upon; the vehicle stays still meanwhile. */
  onSweep?: ((panel: string) => void) | undefined;
  picked: string | undefined;
  hovered: string | undefined;
  painted: PaintedSurface | undefined;
  /** The triangle of the painted surface that is pointed at, here or on the flat piece. */
  triangle: number | undefined;
  viewpoint: Viewpoint;
  dark: boolean;
  onPick: (panel: string | undefined) => void;
  onHover: (panel: string | undefined) => void;
  onTriangle: (triangle: number | undefined) => void;
}

/** The vehicle in its studio. Drawn only when something changes. */
export default function Stage(props: StageProps) {
  const [vehicle, setVehicle] = useState<StagedVehicle>();
  const { model, finishOf } = props;
  useEffect(() => {
    let wanted = true;
    void readVehicle(model, finishOf).then((read) => wanted && setVehicle(read));
    return () => {
      wanted = false;
    };
  }, [model, finishOf]);

  return (
    <div
      className={classes.stage}
      role="application"
      aria-label={props.label}
      tabIndex={0}
      data-ready={vehicle !== undefined}
      data-orbit
    >
      <Canvas
        frameloop="demand"
        dpr={[1, 1.75]}
        camera={{ fov: 26, near: 0.1, far: 100, position: [5, 2, -7] }}
        // Kept after it is drawn, so that a picture can be taken of it.
        gl={{ antialias: true, alpha: true, preserveDrawingBuffer: true }}
        onCreated={({ gl }) => {
          gl.toneMapping = THREE.NeutralToneMapping;
          gl.toneMappingExposure = 1.1;
        }}
        onPointerMissed={() => props.onPick(undefined)}
      >
        {vehicle && <Scene {...props} vehicle={vehicle} />}
      </Canvas>
    </div>
  );
}

function Scene({ vehicle, ...props }: StageProps & { vehicle: StagedVehicle }) {
  useStudio();
  useOrbit(vehicle.bounds, props.viewpoint, props.onSweep === undefined);
  const invalidate = useThree((state) => state.invalidate);
  const { picked, hovered, painted, dark, films, finishOf } = props;
  const choosing = props.onSweep !== undefined;

  const bare = useRef(new Map<string, THREE.MeshPhysicalMaterial>());
  useEffect(() => {
    if (!films) return;
    for (const [name, panel] of vehicle.panels) {
      const own = bare.current.get(name) ?? panel.material;
      bare.current.set(name, own);
      if (panel.material !== own) panel.material.dispose();
      const film = films.get(name);
      panel.material = film ? filmedMaterial(finishOf(name) ?? "", name, film) : own;
    }
    invalidate();
  }, [vehicle, films, finishOf, invalidate]);

  useEffect(() => {
    for (const [name, panel] of vehicle.panels) {
      const lit = name === hovered && name !== painted?.panel;
      // While surfaces are chosen, those that are covered glow a little: clear film is hard to see.
      const covered = choosing && films?.has(name);
      panel.material.emissive.set(dark ? "#74c9b6" : "#3f9d8c");
      panel.material.emissiveIntensity = lit ? 0.42 : covered ? 0.24 : 0;
      panel.visible = name !== painted?.panel;
    }
    invalidate();
  }, [vehicle, hovered, painted, dark, films, choosing, invalidate]);

  const swept = useRef<string>(undefined);
  const sweep = (event: ThreeEvent<PointerEvent>) => {
    if (!props.onSweep || event.buttons !== 1 || event.object.name === swept.current) return;
    event.stopPropagation();
    swept.current = event.object.name;
    if (event.object.name) props.onSweep(event.object.name);
  };
  const size = vehicle.bounds.getSize(new THREE.Vector3());
  const centre = vehicle.bounds.getCenter(new THREE.Vector3());
  const pickedMesh = picked === undefined ? undefined : vehicle.panels.get(picked);
  const over = (event: ThreeEvent<PointerEvent>) => {
    event.stopPropagation();
    sweep(event);
    if (event.buttons !== 0) return;
    props.onHover(event.object.name || undefined);
    props.onTriangle(
      event.object.name === painted?.panel ? (event.faceIndex ?? undefined) : undefined,
    );
  };
  return (
    <>
      <Floor size={size} centre={centre} low={vehicle.bounds.min.y} />
      <primitive object={vehicle.scenery} />
      <group
        onPointerMove={over}
        onPointerDown={(event: ThreeEvent<PointerEvent>) => {
          swept.current = undefined;
          sweep(event);
        }}
        onPointerOut={() => {
          props.onHover(undefined);
          props.onTriangle(undefined);
        }}
        onClick={(event: ThreeEvent<MouseEvent>) => {
          event.stopPropagation();
          if (event.delta < 5 && !props.onSweep) props.onPick(event.object.name || undefined);
        }}
      >
        {[...vehicle.panels].map(([name, panel]) => (
          <primitive key={name} object={panel} />
        ))}
        {painted && <Painted surface={painted} />}
      </group>
      {painted && <Marks surface={painted} dark={dark} />}
      {pickedMesh && <Outline geometry={pickedMesh.geometry} dark={dark} />}
      {painted && props.triangle !== undefined && (
        <Pointer surface={painted} triangle={props.triangle} />
      )}
    </>
  );
}

function useStudio() {
  const { gl, scene, invalidate } = useThree();
  useEffect(() => {
    const generator = new THREE.PMREMGenerator(gl);
    const target = generator.fromScene(studioScene(), 0.015);
    scene.environment = target.texture;
    scene.environmentIntensity = 1.2;
    invalidate();
    return () => {
      scene.environment = null;
      target.dispose();
      generator.dispose();
    };
  }, [gl, scene, invalidate]);
}

function Floor({ size, centre, low }: { size: THREE.Vector3; centre: THREE.Vector3; low: number }) {
  const shadow = useMemo(() => shadowTexture(), []);
  return (
    <mesh
      rotation={[-Math.PI / 2, 0, 0]}
      position={[centre.x, low + 0.002, centre.z]}
      scale={[size.x * 1.5, size.z * 1.16, 1]}
      raycast={() => null}
    >
      <planeGeometry />
      <meshBasicMaterial map={shadow} transparent depthWrite={false} toneMapped={false} />
    </mesh>
  );
}

function Painted({ surface }: { surface: PaintedSurface }) {
  const geometry = useMemo(
    () => strainSurface(surface.points, surface.triangles, surface.colours),
    [surface],
  );
  useEffect(() => () => geometry.dispose(), [geometry]);
  return (
    <mesh name={surface.panel} geometry={geometry}>
      {/* A little behind itself, so that lines on it are not drawn half. */}
      <meshBasicMaterial
        vertexColors
        side={THREE.DoubleSide}
        toneMapped={false}
        polygonOffset
        polygonOffsetFactor={1}
        polygonOffsetUnits={6}
      />
    </mesh>
  );
}

const pullLength = 0.13; // m
const headLength = 0.045;
const headWidth = 0.035;
const anchorRadius = 0.014;

/** Folds, anchors and pulls where they are on the panel. */
function Marks({ surface, dark }: { surface: PaintedSurface; dark: boolean }) {
  const { fingersOnPanel, anchors, pulls } = surface;
  const marks = useMemo(() => {
    const all = new THREE.Group();
    const ends = fingersOnPanel.flatMap((line) =>
      line.slice(1).flatMap((to, index) => [...toStage(line[index] ?? to), ...toStage(to)]),
    );
    if (ends.length > 0)
      for (const [color, linewidth, order] of [
        [markColours.fold, 4, 1],
        [markColours.finger, 1.8, 2],
      ] as const) {
        const lines = new LineSegments2(
          new LineSegmentsGeometry().setPositions(ends),
          new LineMaterial({
            color,
            linewidth,
            toneMapped: false,
            depthFunc: THREE.LessEqualDepth,
          }),
        );
        lines.renderOrder = order;
        all.add(lines);
      }
    const ink = new THREE.MeshBasicMaterial({ color: markColours.pull, toneMapped: false });
    for (const at of anchors) {
      const ball = new THREE.Mesh(new THREE.SphereGeometry(anchorRadius, 20, 12), ink);
      ball.position.set(...toStage(at));
      all.add(ball);
    }
    for (const { at, direction } of pulls)
      all.add(
        new THREE.ArrowHelper(
          new THREE.Vector3(...toStage(direction)).normalize(),
          new THREE.Vector3(...toStage(at)),
          pullLength,
          dark ? markColours.finger : markColours.pull,
          headLength,
          headWidth,
        ),
      );
    all.traverse((part) => (part.raycast = () => undefined));
    return all;
  }, [fingersOnPanel, anchors, pulls, dark]);
  useEffect(
    () => () => {
      marks.traverse((part) => {
        if (!(part instanceof THREE.Mesh || part instanceof THREE.Line)) return;
        (part.geometry as THREE.BufferGeometry).dispose();
        (part.material as THREE.Material).dispose();
      });
    },
    [marks],
  );
  return <primitive object={marks} />;
}

function Outline({ geometry, dark }: { geometry: THREE.BufferGeometry; dark: boolean }) {
  const lines = useMemo(() => boundaryLines(geometry), [geometry]);
  useEffect(() => () => lines.dispose(), [lines]);
  return (
    <lineSegments geometry={lines} renderOrder={2}>
      <lineBasicMaterial color={dark ? "#e9e7e0" : "#12211f"} toneMapped={false} />
    </lineSegments>
  );
}

/** A small mark on the pointed-at triangle, seen through whatever is in front. */
function Pointer({ surface, triangle }: { surface: PaintedSurface; triangle: number }) {
  const mark = useRef<THREE.Mesh>(null);
  const corners = surface.triangles[triangle];
  const position = useMemo(() => {
    const middle = new THREE.Vector3();
    for (const vertex of corners ?? [])
      middle.add(new THREE.Vector3(...toStage(surface.points[vertex] ?? [0, 0, 0])));
    return middle.divideScalar(3);
  }, [surface, corners]);
  useFrame(({ camera }) => {
    mark.current?.scale.setScalar(camera.position.distanceTo(position) * 0.007);
    mark.current?.lookAt(camera.position);
  });
  return (
    <mesh ref={mark} position={position} renderOrder={3} raycast={() => null}>
      <ringGeometry args={[0.62, 1, 28]} />
      <meshBasicMaterial color="#101414" depthTest={false} transparent toneMapped={false} />
    </mesh>
  );
}
