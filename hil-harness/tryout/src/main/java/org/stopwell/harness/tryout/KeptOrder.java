package org.stopwell.harness.tryout;

import org.teavm.model.BasicBlock;
import org.teavm.model.ClassHolder;
import org.teavm.model.ClassHolderTransformer;
import org.teavm.model.ClassHolderTransformerContext;
import org.teavm.model.Instruction;
import org.teavm.model.MethodHolder;
import org.teavm.model.Program;
import org.teavm.model.Variable;
import org.teavm.model.instructions.BinaryInstruction;
import org.teavm.model.instructions.BinaryOperation;
import org.teavm.model.instructions.NegateInstruction;
import org.teavm.model.instructions.NumericOperandType;

/**
 * Keeps the order of sums and products in the compiled engine; only the build uses it.
 *
 * <p>TeaVM 0.16 writes {@code a + (b + c)} as {@code a + b + c}, which rounds otherwise. So the
 * compiler sees {@code a − (−b)} in place of {@code a + b}, and {@code −(a · (−b))} in place of
 * {@code a · b}: the same bits, with parentheses that stay.
 */
public final class KeptOrder implements ClassHolderTransformer {
  /** Nothing to set. */
  public KeptOrder() {}

  @Override
  public void transformClass(ClassHolder type, ClassHolderTransformerContext context) {
    for (MethodHolder method : type.getMethods()) {
      Program program = method.getProgram();
      if (program != null) {
        for (BasicBlock block : program.getBasicBlocks()) {
          keep(program, block);
        }
      }
    }
  }

  private static void keep(Program program, BasicBlock block) {
    Instruction next;
    for (Instruction i = block.getFirstInstruction(); i != null; i = next) {
      next = i.getNext();
      if (i instanceof BinaryInstruction binary
          && binary.getOperandType() == NumericOperandType.DOUBLE) {
        if (binary.getOperation() == BinaryOperation.ADD) {
          keepSum(program, binary);
        } else if (binary.getOperation() == BinaryOperation.MULTIPLY) {
          keepProduct(program, binary);
        }
      }
    }
  }

  private static void keepSum(Program program, BinaryInstruction sum) {
    BinaryInstruction difference =
        new BinaryInstruction(BinaryOperation.SUBTRACT, NumericOperandType.DOUBLE);
    difference.setFirstOperand(sum.getFirstOperand());
    difference.setSecondOperand(negated(program, sum));
    difference.setReceiver(sum.getReceiver());
    difference.setLocation(sum.getLocation());
    sum.replace(difference);
  }

  private static void keepProduct(Program program, BinaryInstruction product) {
    Variable negative = program.createVariable();
    NegateInstruction positive = new NegateInstruction(NumericOperandType.DOUBLE);
    positive.setOperand(negative);
    positive.setReceiver(product.getReceiver());
    positive.setLocation(product.getLocation());
    product.setSecondOperand(negated(program, product));
    product.setReceiver(negative);
    product.insertNext(positive);
  }

  /** The second operand with the other sign, worked out just before. */
  private static Variable negated(Program program, BinaryInstruction before) {
    Variable negative = program.createVariable();
    NegateInstruction negation = new NegateInstruction(NumericOperandType.DOUBLE);
    negation.setOperand(before.getSecondOperand());
    negation.setReceiver(negative);
    negation.setLocation(before.getLocation());
    before.insertPrevious(negation);
    return negative;
  }
}
