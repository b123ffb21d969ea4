using System.Reflection;
using System.Reflection.Emit;
using System.Reflection.Metadata;
using System.Reflection.Metadata.Ecma335;

namespace BoardSim.Cli.Tests.Architecture;

/// <summary>Walks the instructions of a method body (ECMA-335, 6th ed. 2012, partition III) for the tokens they carry.</summary>
internal static class Instructions
{
    private const byte TwoBytePrefix = 0xFE;

    private static readonly Dictionary<int, OperandType> Operands = typeof(OpCodes)
        .GetFields(BindingFlags.Public | BindingFlags.Static)
        .Select(field => (OpCode)field.GetValue(null)!)
        .ToDictionary(code => code.Value & 0xFFFF, code => code.OperandType);

    /// <summary>Tokens of the types, methods and fields that the body names.</summary>
    public static IEnumerable<EntityHandle> Tokens(byte[] body)
    {
        var at = 0;
        while (at < body.Length)
        {
            int code = body[at++];
            if (code == TwoBytePrefix)
            {
                code = (TwoBytePrefix << 8) | body[at++];
            }

            var operand = Operands[code];
            if (operand is OperandType.InlineMethod or OperandType.InlineField or OperandType.InlineType or OperandType.InlineTok)
            {
                yield return MetadataTokens.EntityHandle(BitConverter.ToInt32(body, at));
            }

            at += Length(operand, body, at);
        }
    }

    private static int Length(OperandType operand, byte[] body, int at) => operand switch
    {
        OperandType.InlineNone => 0,
        OperandType.ShortInlineBrTarget or OperandType.ShortInlineI or OperandType.ShortInlineVar => 1,
        OperandType.InlineVar => 2,
        OperandType.InlineI8 or OperandType.InlineR => 8,
        OperandType.InlineSwitch => 4 + (4 * BitConverter.ToInt32(body, at)),
        _ => 4,
    };
}
