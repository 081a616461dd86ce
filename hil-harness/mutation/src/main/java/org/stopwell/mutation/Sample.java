package org.stopwell.mutation;

import java.util.Collection;
import org.pitest.bytecode.analysis.ClassTree;
import org.pitest.mutationtest.build.InterceptorParameters;
import org.pitest.mutationtest.build.InterceptorType;
import org.pitest.mutationtest.build.MutationInterceptor;
import org.pitest.mutationtest.build.MutationInterceptorFactory;
import org.pitest.mutationtest.engine.Mutater;
import org.pitest.mutationtest.engine.MutationDetails;
import org.pitest.plugin.Feature;

/** Leaves the mutation tool only the mutants that are drawn early enough. */
public final class Sample implements MutationInterceptorFactory {
  /** System property: seed of the sample. */
  static final String SEED = "mutation.seed";

  /** System property: share of all mutants that is tried. */
  static final String SHARE = "mutation.share";

  /** For the mutation tool, which finds this class by its service file. */
  public Sample() {}

  @Override
  public Feature provides() {
    return Feature.named("SAMPLE").withOnByDefault(true).withDescription(description());
  }

  @Override
  public String description() {
    return "Keeps a random share of the mutants";
  }

  @Override
  public MutationInterceptor createInterceptor(InterceptorParameters parameters) {
    String seed = System.getProperty(SEED, "");
    double share = Double.parseDouble(System.getProperty(SHARE, "1"));
    return new MutationInterceptor() {
      @Override
      public InterceptorType type() {
        return InterceptorType.FILTER;
      }

      @Override
      public void begin(ClassTree type) {}

      @Override
      public Collection<MutationDetails> intercept(
          Collection<MutationDetails> mutants, Mutater mutater) {
        return mutants.stream().filter(m -> draw(seed, m) < share).toList();
      }

      @Override
      public void end() {}
    };
  }

  private static double draw(String seed, MutationDetails mutant) {
    return Draw.of(
        seed,
        mutant.getClassName().asJavaName(),
        mutant.getMethod() + mutant.getId().getLocation().getMethodDesc(),
        mutant.getMutator() + mutant.getId().getIndexes());
  }
}
