import type {
  $Command,
  DynamoDBClientResolvedConfig,
  ServiceInputTypes,
  ServiceOutputTypes,
} from '@aws-sdk/client-dynamodb';

/** What sends a command to DynamoDB: a DynamoDBClient, or something that stands before one. */
export interface Sender {
  send<Input extends ServiceInputTypes, Output extends ServiceOutputTypes>(
    command: $Command<Input, Output, DynamoDBClientResolvedConfig, ServiceInputTypes, ServiceOutputTypes>,
  ): Promise<Output>;
}
