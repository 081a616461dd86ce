/** The bench: one contract, several benches, physics, wire protocol, calibration. */
module org.stopwell.rig {
  requires transitive org.stopwell.core;
  requires com.fazecast.jSerialComm;
  requires com.pi4j;
  requires com.pi4j.plugin.gpiod;
  requires com.sun.jna;
  requires static com.pi4j.plugin.linuxfs;
  requires static org.jspecify;

  exports org.stopwell.rig.bench;
  exports org.stopwell.rig.board;
  exports org.stopwell.rig.calibration;
  exports org.stopwell.rig.device;
  exports org.stopwell.rig.device.twin;
  exports org.stopwell.rig.dut;
  exports org.stopwell.rig.fault;
  exports org.stopwell.rig.network;
  exports org.stopwell.rig.physics.canal;
  exports org.stopwell.rig.physics.field;
  exports org.stopwell.rig.physics.file;
  exports org.stopwell.rig.physics.fluid;
  exports org.stopwell.rig.physics.hand;
  exports org.stopwell.rig.physics.motor;
  exports org.stopwell.rig.pi;
  exports org.stopwell.rig.population;
  exports org.stopwell.rig.proof;
  exports org.stopwell.rig.random;
  exports org.stopwell.rig.serial;
  exports org.stopwell.rig.time;
  exports org.stopwell.rig.truth;
  exports org.stopwell.rig.virtual;
  exports org.stopwell.rig.weights;
  exports org.stopwell.rig.wire;
}
