package org.stopwell.harness.firmware;

import java.lang.reflect.Field;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.TreeSet;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.FieldInsnNode;
import org.objectweb.asm.tree.IincInsnNode;
import org.objectweb.asm.tree.IntInsnNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.JumpInsnNode;
import org.objectweb.asm.tree.LabelNode;
import org.objectweb.asm.tree.LdcInsnNode;
import org.objectweb.asm.tree.LookupSwitchInsnNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;
import org.objectweb.asm.tree.TableSwitchInsnNode;
import org.objectweb.asm.tree.TypeInsnNode;
import org.objectweb.asm.tree.VarInsnNode;
import org.objectweb.asm.tree.analysis.Analyzer;
import org.objectweb.asm.tree.analysis.AnalyzerException;
import org.objectweb.asm.tree.analysis.BasicValue;
import org.objectweb.asm.tree.analysis.Frame;
import org.objectweb.asm.tree.analysis.SimpleVerifier;

/**
 * Writes one method as a function of C: a variable for every local variable and every place of the
 * stack, a statement for every instruction. What the control core must not do in a step, such as to
 * allocate, is refused.
 */
final class MethodWriter {
  private final Program program;
  private final Names names;
  private final Method method;
  private final MethodNode node;
  private final Map<LabelNode, Integer> labels = new TreeMap<>((a, b) -> order(a) - order(b));
  private final Set<String> variables = new TreeSet<>();
  private final StringBuilder body = new StringBuilder();

  private MethodWriter(Program program, Names names, Method method) {
    this.program = program;
    this.names = names;
    this.method = method;
    this.node = program.files().body(method);
  }

  private int order(LabelNode label) {
    return node.instructions.indexOf(label);
  }

  /** The declaration of a method, without its end. */
  static String declaration(Names names, Method method, boolean isStatic) {
    List<String> parameters = new ArrayList<>();
    int local = 0;
    if (!isStatic) {
      parameters.add("void *a0");
      local = 1;
    }
    for (Type type : Type.getArgumentTypes(method.descriptor())) {
      char letter = Names.letter(type);
      parameters.add(Names.ofLetter(letter) + letter + local);
      local += type.getSize();
    }
    Type result = Type.getReturnType(method.descriptor());
    String type = Names.variable(result);
    return "static "
        + type
        + (type.endsWith("*") ? "" : " ")
        + names.method(method)
        + "("
        + (parameters.isEmpty() ? "void" : String.join(", ", parameters))
        + ")";
  }

  static String write(Program program, Names names, Method method) {
    return new MethodWriter(program, names, method).write();
  }

  private String write() {
    if (!node.tryCatchBlocks.isEmpty()) {
      throw refused("catches an exception");
    }
    Frame<BasicValue>[] frames;
    try {
      frames = new Analyzer<>(new SimpleVerifier()).analyze(method.owner(), node);
    } catch (AnalyzerException e) {
      throw new IllegalStateException(method + ": " + e.getMessage(), e);
    }
    for (AbstractInsnNode each : node.instructions) {
      targetsOf(each).forEach(label -> labels.put(label, labels.size() + 1));
    }
    int number = 1;
    for (Map.Entry<LabelNode, Integer> label : labels.entrySet()) {
      label.setValue(number++);
    }
    for (int i = 0; i < frames.length; i++) {
      AbstractInsnNode each = node.instructions.get(i);
      if (each instanceof LabelNode label && labels.containsKey(label)) {
        body.append("L").append(labels.get(label)).append(":;\n");
      }
      if (frames[i] != null && each.getOpcode() >= 0) {
        instruction(each, frames[i]);
      }
    }
    boolean isStatic = (node.access & Opcodes.ACC_STATIC) != 0;
    String head = declaration(names, method, isStatic);
    Set<String> parameters = new HashSet<>(List.of(head.split("[ (),*]+", -1)));
    StringBuilder text = new StringBuilder(head).append(" {\n");
    for (String variable : variables) {
      if (!parameters.contains(variable)) {
        char letter = variable.charAt(variable.startsWith("s") || variable.startsWith("t") ? 1 : 0);
        text.append("  ").append(Names.ofLetter(letter)).append(variable).append(";\n");
      }
    }
    return text.append(body).append("}\n").toString();
  }

  private static List<LabelNode> targetsOf(AbstractInsnNode each) {
    List<LabelNode> targets = new ArrayList<>();
    if (each instanceof JumpInsnNode jump) {
      targets.add(jump.label);
    } else if (each instanceof TableSwitchInsnNode choice) {
      targets.addAll(choice.labels);
      targets.add(choice.dflt);
    } else if (each instanceof LookupSwitchInsnNode choice) {
      targets.addAll(choice.labels);
      targets.add(choice.dflt);
    }
    return targets;
  }

  private IllegalStateException refused(String what) {
    return new IllegalStateException(method + " " + what + ", which a step must not do");
  }

  private void line(String text) {
    body.append("  ").append(text).append("\n");
  }

  private String local(char letter, int index) {
    String name = letter + "" + index;
    variables.add(name);
    return name;
  }

  private String stack(int place, char letter) {
    String name = "s" + letter + place;
    variables.add(name);
    return name;
  }

  private String stack(Frame<BasicValue> frame, int place) {
    return stack(place, letter(frame.getStack(place)));
  }

  private static char letter(BasicValue value) {
    Type type = value.getType();
    return type == null ? 'a' : Names.letter(type);
  }

  private String goTo(LabelNode label) {
    return "goto L" + labels.get(label) + ";";
  }

  private void instruction(AbstractInsnNode each, Frame<BasicValue> frame) {
    int top = frame.getStackSize();
    int opcode = each.getOpcode();
    String known = Operations.PATTERNS.get(opcode);
    if (known != null) {
      int operands = known.contains("%2$s") ? 2 : known.contains("%1$s") ? 1 : 0;
      String left = operands == 0 ? "" : stack(frame, top - operands);
      String right = operands < 2 ? "" : stack(frame, top - 1);
      String to = stack(top - operands, known.charAt(0));
      line(to + " = " + known.substring(2).formatted(left, right) + ";");
      return;
    }
    if (each instanceof VarInsnNode variable) {
      variable(variable, frame, top);
    } else if (each instanceof IincInsnNode more) {
      String name = local('i', more.var);
      line(name + " = ADD32(" + name + ", " + more.incr + ");");
    } else if (each instanceof IntInsnNode number && opcode != Opcodes.NEWARRAY) {
      line(stack(top, 'i') + " = " + number.operand + ";");
    } else if (each instanceof LdcInsnNode constant) {
      constant(constant.cst, top);
    } else if (each instanceof JumpInsnNode jump) {
      jump(jump, frame, top);
    } else if (each instanceof TableSwitchInsnNode choice) {
      line("switch (" + stack(top - 1, 'i') + ") {");
      for (int i = 0; i < choice.labels.size(); i++) {
        line("case " + (choice.min + i) + ": " + goTo(choice.labels.get(i)));
      }
      line("default: " + goTo(choice.dflt));
      line("}");
    } else if (each instanceof LookupSwitchInsnNode choice) {
      line("switch (" + stack(top - 1, 'i') + ") {");
      for (int i = 0; i < choice.labels.size(); i++) {
        line("case " + choice.keys.get(i) + ": " + goTo(choice.labels.get(i)));
      }
      line("default: " + goTo(choice.dflt));
      line("}");
    } else if (each instanceof FieldInsnNode field) {
      field(field, frame, top);
    } else if (each instanceof MethodInsnNode call) {
      call(call, frame, top);
    } else if (each instanceof InvokeDynamicInsnNode text) {
      int operands = Type.getArgumentTypes(text.desc).length;
      if (!text.bsm.getName().equals("makeConcatWithConstants")) {
        throw refused("makes an object");
      }
      line(stack(top - operands, 'a') + " = NULL; /* the text of an exception */");
    } else if (each instanceof TypeInsnNode type) {
      type(type, top);
    } else {
      other(opcode, frame, top);
    }
  }

  private void variable(VarInsnNode each, Frame<BasicValue> frame, int top) {
    boolean loads = each.getOpcode() <= Opcodes.ALOAD;
    if (loads) {
      char letter = "ilfda".charAt(each.getOpcode() - Opcodes.ILOAD);
      line(stack(top, letter) + " = " + local(letter, each.var) + ";");
    } else {
      char letter = "ilfda".charAt(each.getOpcode() - Opcodes.ISTORE);
      line(local(letter, each.var) + " = " + stack(frame, top - 1) + ";");
    }
  }

  private void constant(Object value, int top) {
    if (value instanceof String) {
      line(stack(top, 'a') + " = NULL; /* the text of an exception */");
    } else if (value instanceof Number) {
      char letter = Names.letter(Type.getType(primitive(value)));
      line(stack(top, letter) + " = " + Names.literal(value) + ";");
    } else {
      throw refused("uses the constant " + value);
    }
  }

  private static Class<?> primitive(Object value) {
    return value instanceof Integer
        ? int.class
        : value instanceof Long ? long.class : value instanceof Float ? float.class : double.class;
  }

  private void jump(JumpInsnNode each, Frame<BasicValue> frame, int top) {
    String go = goTo(each.label);
    int opcode = each.getOpcode();
    if (opcode == Opcodes.GOTO) {
      line(go);
      return;
    }
    String[] compare = {"==", "!=", "<", ">=", ">", "<="};
    if (opcode >= Opcodes.IFEQ && opcode <= Opcodes.IFLE) {
      line("if (" + stack(top - 1, 'i') + " " + compare[opcode - Opcodes.IFEQ] + " 0) " + go);
    } else if (opcode >= Opcodes.IF_ICMPEQ && opcode <= Opcodes.IF_ICMPLE) {
      String sign = compare[opcode - Opcodes.IF_ICMPEQ];
      line("if (" + stack(top - 2, 'i') + " " + sign + " " + stack(top - 1, 'i') + ") " + go);
    } else if (opcode == Opcodes.IF_ACMPEQ || opcode == Opcodes.IF_ACMPNE) {
      String sign = opcode == Opcodes.IF_ACMPEQ ? "==" : "!=";
      line("if (" + stack(frame, top - 2) + " " + sign + " " + stack(frame, top - 1) + ") " + go);
    } else if (opcode == Opcodes.IFNULL || opcode == Opcodes.IFNONNULL) {
      String sign = opcode == Opcodes.IFNULL ? "==" : "!=";
      line("if (" + stack(frame, top - 1) + " " + sign + " NULL) " + go);
    } else {
      throw refused("has instruction " + opcode);
    }
  }

  private void field(FieldInsnNode each, Frame<BasicValue> frame, int top) {
    Field field = ClassFiles.field(each.owner, each.name);
    Type type = Type.getType(each.desc);
    char letter = Names.letter(type);
    switch (each.getOpcode()) {
      case Opcodes.GETSTATIC -> {
        Object value = ClassFiles.value(field, null);
        boolean primitive = field.getType().isPrimitive();
        line(
            stack(top, letter)
                + " = "
                + (primitive ? Names.literal(value) : names.address(value))
                + ";");
      }
      case Opcodes.GETFIELD ->
          line(stack(top - 1, letter) + " = " + place(field, stack(frame, top - 1)) + ";");
      case Opcodes.PUTFIELD -> {
        String cast = letter == 'i' ? "(" + Names.storage(type) + ")" : "";
        line(place(field, stack(frame, top - 2)) + " = " + cast + stack(frame, top - 1) + ";");
      }
      default -> throw refused("writes the static field " + each.name);
    }
  }

  private String place(Field field, String object) {
    String type = names.type(Type.getInternalName(field.getDeclaringClass()));
    return "((struct " + type + " *)" + object + ")->" + names.field(field);
  }

  private void type(TypeInsnNode each, int top) {
    switch (each.getOpcode()) {
      case Opcodes.CHECKCAST -> {
        // the compiler of Java has made sure of it
      }
      case Opcodes.NEW -> {
        if (!Program.isThrown(each.desc)) {
          throw refused("makes an object of " + each.desc);
        }
        line(stack(top, 'a') + " = NULL; /* an exception */");
      }
      case Opcodes.ANEWARRAY -> throw refused("makes an array");
      default -> throw refused("asks for the class of an object");
    }
  }

  private void call(MethodInsnNode each, Frame<BasicValue> frame, int top) {
    Type[] types = Type.getArgumentTypes(each.desc);
    Type result = Type.getReturnType(each.desc);
    int count = types.length + (each.getOpcode() == Opcodes.INVOKESTATIC ? 0 : 1);
    int base = top - count;
    List<String> arguments = new ArrayList<>();
    for (int i = base; i < top; i++) {
      arguments.add(stack(frame, i));
    }
    String to = result.getSort() == Type.VOID ? "" : stack(base, Names.letter(result)) + " = ";
    SortedMap<String, Method> targets = program.targets(each);
    if (targets.isEmpty()) {
      line(to + library(each, frame, arguments, base) + ";");
      return;
    }
    if (targets.firstKey().isEmpty()) {
      line(to + called(targets.values().iterator().next(), arguments));
      return;
    }
    line("switch (((struct Object *)" + arguments.get(0) + ")->type) {");
    targets.forEach(
        (type, target) ->
            line(
                "case TYPE_"
                    + names.type(type)
                    + ": "
                    + to
                    + called(target, arguments)
                    + " break;"));
    line("default: stopwell_trap();");
    line("}");
  }

  private String called(Method target, List<String> arguments) {
    return names.method(target) + "(" + String.join(", ", arguments) + ");";
  }

  private String library(
      MethodInsnNode each, Frame<BasicValue> frame, List<String> arguments, int base) {
    if (each.owner.equals("java/lang/System") && each.name.equals("arraycopy")) {
      Type type = frame.getStack(base).getType().getElementType();
      boolean nested = frame.getStack(base).getType().getDimensions() > 1;
      String storage = nested ? "void *" : Names.storage(type);
      return "stopwell_copy(%s, %s, %s, %s, %s, sizeof(%s))"
          .formatted(
              arguments.get(0),
              arguments.get(1),
              arguments.get(2),
              arguments.get(3),
              arguments.get(4),
              storage);
    }
    String known = Operations.LIBRARY.get(each.owner + "." + each.name + each.desc);
    if (ClassFiles.isOfCore(each.owner)) {
      known = Operations.LIBRARY.get("java/lang/Enum." + each.name + each.desc);
      if (known == null && !Program.isThrown(each.owner)) {
        return "stopwell_trap() /* no such object */";
      }
    }
    if (known != null) {
      return known.formatted(arguments.toArray());
    }
    if (each.owner.startsWith("java/lang/String") || Program.isThrown(each.owner)) {
      return Type.getReturnType(each.desc).getSort() == Type.VOID
          ? "(void)0 /* an exception */"
          : "NULL /* the text of an exception */";
    }
    throw refused("calls " + each.owner + "." + each.name + each.desc);
  }

  private void other(int opcode, Frame<BasicValue> frame, int top) {
    if (opcode >= Opcodes.IALOAD && opcode <= Opcodes.SALOAD) {
      char letter = "ilfdaiii".charAt(opcode - Opcodes.IALOAD);
      String element = element(opcode - Opcodes.IALOAD);
      line(
          "%s = ((%s*)%s)[%s];"
              .formatted(
                  stack(top - 2, letter),
                  element,
                  stack(frame, top - 2),
                  index(frame, top - 2, top - 1)));
    } else if (opcode >= Opcodes.IASTORE && opcode <= Opcodes.SASTORE) {
      String element = element(opcode - Opcodes.IASTORE);
      line(
          "((%s*)%s)[%s] = %s%s;"
              .formatted(
                  element,
                  stack(frame, top - 3),
                  index(frame, top - 3, top - 2),
                  element.startsWith("void") ? "" : "(" + element.strip() + ")",
                  stack(frame, top - 1)));
    } else if (opcode == Opcodes.ARRAYLENGTH) {
      line(stack(top - 1, 'i') + " = LENGTH(" + stack(frame, top - 1) + ");");
    } else if (opcode == Opcodes.ATHROW) {
      line("stopwell_trap();");
    } else if (opcode == Opcodes.RETURN) {
      line("return;");
    } else if (opcode >= Opcodes.IRETURN && opcode <= Opcodes.ARETURN) {
      line("return " + stack(frame, top - 1) + ";");
    } else if (opcode == Opcodes.NEWARRAY || opcode == Opcodes.MULTIANEWARRAY) {
      throw refused("makes an array");
    } else if (opcode != Opcodes.NOP) {
      permute(opcode, frame, top);
    }
  }

  private static String element(int offset) {
    return new String[] {
          "int32_t ", "int64_t ", "float ", "double ", "void *", "int8_t ", "uint16_t ", "int16_t "
        }
        [offset];
  }

  private String index(Frame<BasicValue> frame, int array, int index) {
    return "AT(" + stack(frame, array) + ", " + stack(index, 'i') + ")";
  }

  /** Instructions that only move what is on the stack. */
  private void permute(int opcode, Frame<BasicValue> frame, int top) {
    boolean wide = frame.getStack(top - 1).getSize() == 2;
    boolean nextWide = top > 1 && frame.getStack(top - 2).getSize() == 2;
    boolean thirdWide = top > 2 && frame.getStack(top - 3).getSize() == 2;
    int[] result =
        switch (opcode) {
          case Opcodes.POP -> new int[] {};
          case Opcodes.POP2 -> new int[] {};
          case Opcodes.DUP -> new int[] {0, 0};
          case Opcodes.SWAP -> new int[] {1, 0};
          case Opcodes.DUP_X1 -> new int[] {1, 0, 1};
          case Opcodes.DUP_X2 -> nextWide ? new int[] {1, 0, 1} : new int[] {2, 0, 1, 2};
          case Opcodes.DUP2 -> wide ? new int[] {0, 0} : new int[] {0, 1, 0, 1};
          case Opcodes.DUP2_X1 -> wide ? new int[] {1, 0, 1} : new int[] {1, 2, 0, 1, 2};
          case Opcodes.DUP2_X2 ->
              wide
                  ? nextWide ? new int[] {1, 0, 1} : new int[] {2, 0, 1, 2}
                  : thirdWide ? new int[] {1, 2, 0, 1, 2} : new int[] {2, 3, 0, 1, 2, 3};
          default -> throw refused("has instruction " + opcode);
        };
    int taken = 0;
    for (int each : result) {
      taken = Math.max(taken, each + 1);
    }
    int base = top - taken;
    Set<String> kept = new TreeSet<>();
    List<String> moves = new ArrayList<>();
    for (int i = 0; i < result.length; i++) {
      if (result[i] != i) {
        char letter = letter(frame.getStack(base + result[i]));
        String copy = "t" + letter + result[i];
        variables.add(copy);
        kept.add(copy + " = " + stack(base + result[i], letter) + ";");
        moves.add(stack(base + i, letter) + " = " + copy + ";");
      }
    }
    kept.forEach(this::line);
    moves.forEach(this::line);
  }
}
