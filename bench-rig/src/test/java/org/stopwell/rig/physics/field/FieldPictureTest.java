package org.stopwell.rig.physics.field;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.Scene;

/**
 * The picture on the page of the field model is that of the present grid. To draw it anew: {@code
 * -DargLine=-Dstopwell.write=true}.
 */
class FieldPictureTest {
  private static final Path PICTURE = Path.of("..", "docs", "pictures", "field.svg");
  private static final double MM = 1e-3;

  /** What is shown: distance from the axis and heights, mm. */
  private static final double REACH = 2.6;

  private static final double LOW = -1;
  private static final double HIGH = 5;
  private static final double PIXELS = 80;
  private static final double AXIS = 240;
  private static final double TOP = 50;

  private static final double TIP = 1;
  private static final double LEVEL = 8;
  private static final double[] SHARES = {0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95};

  private final StringBuilder out = new StringBuilder();
  private final FieldMesh mesh;
  private final double ligamentMm;

  FieldPictureTest() throws Exception {
    FieldTooth.Parts parts = FieldToothTest.parts(Scene.of(Map.of(), 1));
    mesh = new FieldMesh(parts.around(), parts.canal(), parts.file(), 0, parts.anatomy(), 1, 1);
    ligamentMm = parts.anatomy().ligamentWidth() / MM;
    mesh.lay(TIP * MM, LEVEL * MM);
  }

  @Test
  void the_picture_is_that_of_the_grid() throws Exception {
    String picture = picture();
    if (Boolean.getBoolean("stopwell.write")) {
      Files.writeString(PICTURE, picture);
    }
    assertEquals(picture, Files.readString(PICTURE));
  }

  /** The potential falls from the metal out, and is nowhere more than there. */
  @Test
  void the_potential_lies_between_file_and_bone() {
    double[] potential = potential();
    for (double volt : potential) {
      assertTrue(volt >= -1e-12 && volt < 1, "potential " + volt);
    }
  }

  private String picture() {
    text(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 720 560\""
            + " font-family=\"Helvetica, Arial, sans-serif\" font-size=\"13\">\n"
            + "<title>Grid and equipotential lines of the field model, simulated</title>\n"
            + "<rect width=\"720\" height=\"560\" fill=\"#ffffff\"/>\n");
    label(AXIS, 22, "middle\" font-weight=\"bold", "Default tooth, tip 1 mm short (simulated)");
    label(AXIS - 110, 42, "middle", "grid");
    label(AXIS + 110, 42, "middle", "equipotential lines");
    text(
        String.format(
            Locale.ROOT,
            "<clipPath id=\"c\"><rect x=\"%.1f\" y=\"%.1f\" width=\"%.1f\""
                + " height=\"%.1f\"/></clipPath>\n",
            AXIS - REACH * PIXELS,
            TOP,
            2 * REACH * PIXELS,
            (HIGH - LOW) * PIXELS));
    text("<g clip-path=\"url(#c)\">\n");
    int last = mesh.grid.columns - 1;
    region("#f3e3c8", 0, last, -2, HIGH + 1);
    region("#e9a9a0", 0, mesh.ligamentColumn, -ligamentMm, HIGH + 1);
    region("#c9b28a", 0, mesh.rootColumn, 0, HIGH + 1);
    region("#f7efd9", 0, mesh.cementumColumn, 0, HIGH + 1);
    region("#bcdcf2", 0, mesh.wallColumn, 0, HIGH + 1);
    region("#6b6f76", 0, mesh.metalColumn, TIP, HIGH + 1);
    lines();
    contours();
    text("</g>\n");
    double x = AXIS + REACH * PIXELS + 14;
    key(x, 70, "#6b6f76", "metal of the file");
    key(x, 94, "#bcdcf2", "fluid");
    key(x, 118, "#f7efd9", "dentine");
    key(x, 142, "#c9b28a", "cementum");
    key(x, 166, "#e9a9a0", "ligament");
    key(x, 190, "#f3e3c8", "bone");
    label(x, 224, "start", "Lines: 10, 20 … 90 and 95 %");
    label(x, 242, "start", "of the highest potential");
    for (int mm = (int) LOW; mm <= HIGH; mm++) {
      label(AXIS - REACH * PIXELS - 6, y(mm * MM) + 4, "end", Integer.toString(mm));
    }
    label(AXIS, 552, "middle", "height above the foramen, mm, on the left");
    return out.append("</svg>\n").toString();
  }

  /** The part of the section between the axis and a column, on both sides. */
  private void region(String fill, int from, int to, double lowMm, double highMm) {
    StringBuilder right = new StringBuilder();
    StringBuilder left = new StringBuilder();
    FieldGrid grid = mesh.grid;
    for (int side = 0; side < 2; side++) {
      for (int k = 0; k < grid.rows; k++) {
        int i = side == 0 ? k : grid.rows - 1 - k;
        int node = grid.node(i, side == 0 ? from : to);
        double mm = grid.z[node] / MM;
        if (mm < lowMm - 1e-6 || mm > highMm) {
          continue;
        }
        right.append(point(right, 1, node));
        left.append(point(left, -1, node));
      }
    }
    text("<path d=\"" + right + "Z\" fill=\"" + fill + "\"/>\n");
    text("<path d=\"" + left + "Z\" fill=\"" + fill + "\"/>\n");
  }

  private String point(StringBuilder path, int sign, int node) {
    return (path.length() == 0 ? "M" : "L") + xy(sign * mesh.grid.r[node], mesh.grid.z[node]);
  }

  /** Rows and columns of the grid on the left. */
  private void lines() {
    FieldGrid grid = mesh.grid;
    StringBuilder path = new StringBuilder();
    for (int i = 0; i < grid.rows; i++) {
      if (shown(grid.node(i, 0))) {
        int last = grid.node(i, grid.columns - 1);
        path.append('M').append(xy(0, grid.z[last])).append('L');
        path.append(xy(-Math.min(grid.r[last], 3 * MM), grid.z[last]));
      }
    }
    for (int c = 0; c < grid.columns; c++) {
      String step = "M";
      for (int i = 0; i < grid.rows; i++) {
        int node = grid.node(i, c);
        if (shown(node) && grid.r[node] < 3 * MM) {
          path.append(step).append(xy(-grid.r[node], grid.z[node]));
          step = "L";
        }
      }
    }
    text("<path d=\"" + path + "\" fill=\"none\" stroke=\"#333333\" stroke-width=\"0.35\"/>\n");
  }

  private boolean shown(int node) {
    double mm = mesh.grid.z[node] / MM;
    return mm > LOW - 0.5 && mm < HIGH + 0.5;
  }

  /** Lines of one potential, triangle by triangle, on the right. */
  private void contours() {
    double[] volt = potential();
    double most = 0;
    for (double v : volt) {
      most = Math.max(most, v);
    }
    FieldGrid grid = mesh.grid;
    StringBuilder path = new StringBuilder();
    for (int i = 0; i + 1 < grid.rows; i++) {
      for (int c = 0; c + 1 < grid.columns; c++) {
        int p = grid.node(i, c);
        int t = p + grid.columns + 1;
        boolean inMetal = c < mesh.metalColumn && 0.5 * (grid.z[p] + grid.z[t]) > TIP * MM;
        if (shown(p) && grid.r[p] < 3 * MM && !inMetal) {
          for (double share : SHARES) {
            cut(path, volt, share * most, p, p + 1, t);
            cut(path, volt, share * most, p, p + grid.columns, t);
          }
        }
      }
    }
    text("<path d=\"" + path + "\" fill=\"none\" stroke=\"#7a1f5c\" stroke-width=\"1.1\"/>\n");
  }

  private void cut(StringBuilder path, double[] volt, double at, int a, int b, int c) {
    String first = crossing(volt, at, a, b);
    String second = crossing(volt, at, b, c);
    String third = crossing(volt, at, a, c);
    String one = first.isEmpty() ? second : first;
    String other = third.isEmpty() ? second : third;
    if (!one.isEmpty() && !other.isEmpty() && !one.equals(other)) {
      path.append('M').append(one).append('L').append(other);
    }
  }

  private String crossing(double[] volt, double at, int p, int q) {
    if (volt[p] < at == volt[q] < at) {
      return "";
    }
    double share = (at - volt[p]) / (volt[q] - volt[p]);
    FieldGrid grid = mesh.grid;
    return xy(
        grid.r[p] + share * (grid.r[q] - grid.r[p]), grid.z[p] + share * (grid.z[q] - grid.z[p]));
  }

  /** Potentials with 1 V behind a real surface, 1000 S/m², and bone and gum at 0 V. */
  private double[] potential() {
    double surface = 1000;
    FieldGrid grid = mesh.grid;
    int nodes = grid.rows * grid.columns;
    BandMatrix matrix = new BandMatrix(grid.columns + 1);
    matrix.reset(nodes);
    double[] volt = new double[nodes];
    for (int p = 0; p < nodes; p++) {
      link(matrix, p, p + 1, grid.across[p]);
      link(matrix, p, p + grid.columns, grid.up[p]);
      link(matrix, p, p + grid.columns + 1, grid.slant[p]);
      if (mesh.terminal[p] < 0) {
        matrix.add(p, p, mesh.gum[p] + surface * mesh.metal[p]);
        volt[p] = surface * mesh.metal[p];
      }
    }
    matrix.closeEmptyRows();
    matrix.factor();
    matrix.solve(volt, 0);
    return volt;
  }

  private void link(BandMatrix matrix, int p, int q, double siemens) {
    if (siemens == 0) {
      return;
    }
    boolean from = mesh.terminal[p] < 0;
    boolean to = mesh.terminal[q] < 0;
    if (from) {
      matrix.add(p, p, siemens);
    }
    if (to) {
      matrix.add(q, q, siemens);
    }
    if (from && to) {
      matrix.add(p, q, -siemens);
    }
  }

  private void key(double x, double y, String fill, String words) {
    text(
        String.format(
            Locale.ROOT,
            "<rect x=\"%.1f\" y=\"%.1f\" width=\"16\" height=\"12\" fill=\"%s\""
                + " stroke=\"#333333\"/>\n",
            x,
            y - 10,
            fill));
    label(x + 24, y, "start", words);
  }

  private void label(double x, double y, String anchor, String words) {
    text(
        String.format(
            Locale.ROOT,
            "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\">%s</text>\n",
            x,
            y,
            anchor,
            words));
  }

  private void text(String more) {
    out.append(more);
  }

  private static double y(double z) {
    return TOP + (HIGH - z / MM) * PIXELS;
  }

  private static String xy(double r, double z) {
    return String.format(Locale.ROOT, "%.1f %.1f", AXIS + r / MM * PIXELS, y(z));
  }
}
