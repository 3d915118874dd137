/**
 * The wear table: all that the wear models ever see. One row is one numeric reading of one component.
 *
 * Component is a number from 0 upward (a row of whatever table names the components); hours are flight hours on the
 * task's clock, wear is in millimetres.
 */
export interface WearTable {
  readonly rows: number;
  readonly components: number;
  readonly component: Int32Array;
  readonly hours: Float64Array;
  readonly wearMm: Float64Array;
}
