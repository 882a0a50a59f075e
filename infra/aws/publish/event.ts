/** What CloudFormation hands on of the resource's properties; it makes strings of all. */
export interface PublishProperties {
  readonly Bucket: string;
  /** Changes with the files. */
  readonly Version: string;
}

/** CloudFormation User Guide, "Custom resource request types": what it sends. */
export interface PublishEvent {
  readonly RequestType: 'Create' | 'Update' | 'Delete';
  readonly ResponseURL: string;
  readonly StackId: string;
  readonly RequestId: string;
  readonly LogicalResourceId: string;
  readonly PhysicalResourceId?: string;
  readonly ResourceProperties: PublishProperties;
}
