package org.stopwell.harness.firmware;

import static java.util.Map.entry;

import java.util.Map;
import org.objectweb.asm.Opcodes;

/** Instructions and methods of the Java library that are one expression of C. */
final class Operations {
  private Operations() {}

  /** By instruction: letter of the result, a blank, the expression over its operands. */
  static final Map<Integer, String> PATTERNS =
      Map.ofEntries(
          entry(Opcodes.ACONST_NULL, "a NULL"),
          entry(Opcodes.ICONST_M1, "i -1"),
          entry(Opcodes.ICONST_0, "i 0"),
          entry(Opcodes.ICONST_1, "i 1"),
          entry(Opcodes.ICONST_2, "i 2"),
          entry(Opcodes.ICONST_3, "i 3"),
          entry(Opcodes.ICONST_4, "i 4"),
          entry(Opcodes.ICONST_5, "i 5"),
          entry(Opcodes.LCONST_0, "l 0"),
          entry(Opcodes.LCONST_1, "l 1"),
          entry(Opcodes.FCONST_0, "f 0.0f"),
          entry(Opcodes.FCONST_1, "f 1.0f"),
          entry(Opcodes.FCONST_2, "f 2.0f"),
          entry(Opcodes.DCONST_0, "d 0.0"),
          entry(Opcodes.DCONST_1, "d 1.0"),
          entry(Opcodes.IADD, "i ADD32(%1$s, %2$s)"),
          entry(Opcodes.ISUB, "i SUB32(%1$s, %2$s)"),
          entry(Opcodes.IMUL, "i MUL32(%1$s, %2$s)"),
          entry(Opcodes.IDIV, "i stopwell_div32(%1$s, %2$s)"),
          entry(Opcodes.IREM, "i stopwell_rem32(%1$s, %2$s)"),
          entry(Opcodes.INEG, "i SUB32(0, %1$s)"),
          entry(Opcodes.ISHL, "i SHL32(%1$s, %2$s)"),
          entry(Opcodes.ISHR, "i (%1$s >> (%2$s & 31))"),
          entry(Opcodes.IUSHR, "i USHR32(%1$s, %2$s)"),
          entry(Opcodes.IAND, "i %1$s & %2$s"),
          entry(Opcodes.IOR, "i %1$s | %2$s"),
          entry(Opcodes.IXOR, "i %1$s ^ %2$s"),
          entry(Opcodes.LADD, "l ADD64(%1$s, %2$s)"),
          entry(Opcodes.LSUB, "l SUB64(%1$s, %2$s)"),
          entry(Opcodes.LMUL, "l MUL64(%1$s, %2$s)"),
          entry(Opcodes.LDIV, "l stopwell_div64(%1$s, %2$s)"),
          entry(Opcodes.LREM, "l stopwell_rem64(%1$s, %2$s)"),
          entry(Opcodes.LNEG, "l SUB64(0, %1$s)"),
          entry(Opcodes.LSHL, "l SHL64(%1$s, %2$s)"),
          entry(Opcodes.LSHR, "l (%1$s >> (%2$s & 63))"),
          entry(Opcodes.LUSHR, "l USHR64(%1$s, %2$s)"),
          entry(Opcodes.LAND, "l %1$s & %2$s"),
          entry(Opcodes.LOR, "l %1$s | %2$s"),
          entry(Opcodes.LXOR, "l %1$s ^ %2$s"),
          entry(Opcodes.FADD, "f %1$s + %2$s"),
          entry(Opcodes.FSUB, "f %1$s - %2$s"),
          entry(Opcodes.FMUL, "f %1$s * %2$s"),
          entry(Opcodes.FDIV, "f %1$s / %2$s"),
          entry(Opcodes.FNEG, "f -%1$s"),
          entry(Opcodes.DADD, "d %1$s + %2$s"),
          entry(Opcodes.DSUB, "d %1$s - %2$s"),
          entry(Opcodes.DMUL, "d %1$s * %2$s"),
          entry(Opcodes.DDIV, "d %1$s / %2$s"),
          entry(Opcodes.DNEG, "d -%1$s"),
          entry(Opcodes.I2L, "l %1$s"),
          entry(Opcodes.I2F, "f (float)%1$s"),
          entry(Opcodes.I2D, "d (double)%1$s"),
          entry(Opcodes.L2I, "i (int32_t)%1$s"),
          entry(Opcodes.L2F, "f (float)%1$s"),
          entry(Opcodes.L2D, "d (double)%1$s"),
          entry(Opcodes.F2D, "d (double)%1$s"),
          entry(Opcodes.D2F, "f (float)%1$s"),
          entry(Opcodes.F2I, "i stopwell_to32((double)%1$s)"),
          entry(Opcodes.F2L, "l stopwell_to64((double)%1$s)"),
          entry(Opcodes.D2I, "i stopwell_to32(%1$s)"),
          entry(Opcodes.D2L, "l stopwell_to64(%1$s)"),
          entry(Opcodes.I2B, "i (int8_t)%1$s"),
          entry(Opcodes.I2C, "i (uint16_t)%1$s"),
          entry(Opcodes.I2S, "i (int16_t)%1$s"),
          entry(Opcodes.LCMP, "i (%1$s > %2$s) - (%1$s < %2$s)"),
          entry(Opcodes.FCMPL, "i %1$s > %2$s ? 1 : %1$s == %2$s ? 0 : -1"),
          entry(Opcodes.DCMPL, "i %1$s > %2$s ? 1 : %1$s == %2$s ? 0 : -1"),
          entry(Opcodes.FCMPG, "i %1$s < %2$s ? -1 : %1$s == %2$s ? 0 : 1"),
          entry(Opcodes.DCMPG, "i %1$s < %2$s ? -1 : %1$s == %2$s ? 0 : 1"));

  /** By class, name and types: the expression over the arguments. */
  static final Map<String, String> LIBRARY =
      Map.ofEntries(
          entry("java/lang/Math.abs(I)I", "stopwell_abs32(%s)"),
          entry("java/lang/Math.abs(J)J", "stopwell_abs64(%s)"),
          entry("java/lang/Math.abs(D)D", "stopwell_abs(%s)"),
          entry("java/lang/Math.abs(F)F", "(float)stopwell_abs(%s)"),
          entry("java/lang/Math.min(II)I", "MIN(%1$s, %2$s)"),
          entry("java/lang/Math.max(II)I", "MAX(%1$s, %2$s)"),
          entry("java/lang/Math.min(JJ)J", "MIN(%1$s, %2$s)"),
          entry("java/lang/Math.max(JJ)J", "MAX(%1$s, %2$s)"),
          entry("java/lang/Math.min(DD)D", "stopwell_min(%s, %s)"),
          entry("java/lang/Math.max(DD)D", "stopwell_max(%s, %s)"),
          entry("java/lang/Math.sqrt(D)D", "stopwell_sqrt(%s)"),
          entry("java/lang/Math.floor(D)D", "stopwell_floor(%s)"),
          entry("java/lang/Math.ceil(D)D", "(-stopwell_floor(-%s))"),
          entry("java/lang/Math.floorDiv(JJ)J", "stopwell_floor_div(%s, %s)"),
          entry("java/lang/Math.floorDiv(JI)J", "stopwell_floor_div(%s, %s)"),
          entry("java/lang/Long.rotateLeft(JI)J", "stopwell_rotate(%s, %s)"),
          entry("java/lang/Double.doubleToLongBits(D)J", "stopwell_canonical_bits(%s)"),
          entry("java/lang/Double.doubleToRawLongBits(D)J", "stopwell_bits(%s)"),
          entry("java/lang/Double.longBitsToDouble(J)D", "stopwell_double(%s)"),
          entry("java/lang/Double.isNaN(D)Z", "(%1$s != %1$s)"),
          entry("java/lang/Enum.ordinal()I", "stopwell_ordinal(%s)"),
          entry(
              "java/lang/Enum.compareTo(Ljava/lang/Enum;)I",
              "stopwell_ordinal(%s) - stopwell_ordinal(%s)"),
          entry("java/util/Objects.requireNonNull(Ljava/lang/Object;)Ljava/lang/Object;", "(%s)"));
}
