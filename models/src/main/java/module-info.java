/**
 * Reference models: number formats, datapaths, units and solids, scenes and their traversal. Pure
 * Java; knows nothing of RTL.
 */
@SuppressWarnings("module") // the harness, which is compiled later
module dev.plumbline.models {
  exports dev.plumbline.models;
  exports dev.plumbline.models.datapath;
  exports dev.plumbline.models.fixed;
  exports dev.plumbline.models.light;
  exports dev.plumbline.models.picture;
  exports dev.plumbline.models.program;
  exports dev.plumbline.models.scene;
  exports dev.plumbline.models.solid;
  exports dev.plumbline.models.span;
  exports dev.plumbline.models.parsing;
  exports dev.plumbline.models.traversal;
  exports dev.plumbline.models.unit;
  exports dev.plumbline.models.rows to
      dev.plumbline.harness;

  uses dev.plumbline.models.rows.RowCompiler;
}
